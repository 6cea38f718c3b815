# Figures of what was picked and weighed; `own` holds the records of one crop of a cultivar or a tree.

over <- function(a, b) if (b > 0) a / b else NA

# The t interval of a figure that cannot be below 0.
positive <- function(value, se, df) {
  reach <- if (df > 0) qt(0.975, df) * se else NA
  list(value = value, low = max(0, value - reach), high = value + reach)
}

# A ratio of totals with the tree as the unit (Cochran 1977, Sampling Techniques, section 6.3).
ratio <- function(y, x, tree) {
  sums <- rowsum(cbind(y, x), tree)
  n <- nrow(sums)
  value <- over(sum(sums[, 1]), sum(sums[, 2]))
  positive(value, sqrt(n / (n - 1) * sum((sums[, 1] - value * sums[, 2])^2)) / sum(sums[, 2]), n - 1)
}

latest_girths <- function(growth) {
  growth <- growth[rev(order(as.Date(growth$date))), ]
  growth[!is.na(growth$girth), ]
}

yields <- function(own, girths) {
  known <- own[!is.na(own$branches), ]
  both <- known[!is.na(known$weight), ]
  rate <- ratio(known$load, known$branches, known$tree)
  trees <- unique(own$tree)
  trunk <- girths$girth[match(trees, girths$tree)]^2 / (4 * pi)
  weight <- ifelse(is.na(trunk), NA, total(own$weight, own$tree, trees))
  data.frame(
    load = sum(own$load), branches = if (nrow(known) > 0) sum(known$branches) else NA,
    fruitPerBranch = rate$value, fruitPerBranchLow = rate$low, fruitPerBranchHigh = rate$high,
    picked = sum(own$fruit), pickedShare = over(sum(own$fruit), sum(own$load)),
    pickedWeight = sum(own$weight), weightPerBranch = over(sum(both$weight), sum(both$branches)),
    trunkArea = if (all(is.na(trunk))) NA else sum(trunk, na.rm = TRUE),
    yieldEfficiency = over(sum(weight, na.rm = TRUE), sum(trunk[!is.na(weight)])), trees = length(trees)
  )
}

weights_of <- function(own, singles) {
  x <- singles$weight[singles$cultivar == own$cultivar[1] & singles$crop == own$crop[1]]
  counted <- own[own$counted_fruit > 0, ]
  trees <- length(unique(counted$tree))
  middle <- ratio(counted$counted_weight, counted$counted_fruit, counted$tree)
  # With one tree the interval is that of its single fruit.
  if (trees == 1) middle <- positive(middle$value, sd(x) / sqrt(length(x)), length(x) - 1)
  quartiles <- quantile(x, 0:4 / 4, names = FALSE)
  data.frame(
    weighed = sum(own$weighed), fruit = sum(own$fruit),
    mean = middle$value, low = middle$low, high = middle$high, sd = sd(x), cv = 100 * sd(x) / mean(x),
    min = quartiles[1], q1 = quartiles[2], median = quartiles[3], q3 = quartiles[4], max = quartiles[5], trees = trees
  )
}

soundness <- function(own) {
  sums <- colSums(own[c("fruit", "sound", DEFECTS, "dropped")])
  # Without the correction, the interval is the score interval of Wilson 1927.
  test <- if (sums["fruit"] > 0) suppressWarnings(prop.test(sums["sound"], sums["fruit"], correct = FALSE))
  limits <- if (is.null(test)) c(NA, NA) else test$conf.int
  data.frame(t(sums), share = over(sums["sound"], sums["fruit"]), low = limits[1], high = limits[2])
}

# Both crops of every cultivar, also one that nothing was written down for.
tallies <- function(record) {
  rows <- expand.grid(crop = c("early", "main"), of = unique(record$cultivar), stringsAsFactors = FALSE)
  sums <- function(values) total(values, paste(record$crop, record$cultivar), paste(rows$crop, rows$of))
  rows$trees <- sums(!duplicated(paste(record$crop, record$tree)))
  rows$load <- ifelse(rows$trees > 0, sums(record$load), NA)
  rows$picked <- sums(record$fruit)
  rows$weight <- sums(record$weight)
  both <- total(rows$weight, rows$of, rows$of)
  rows$shareOfWeight <- ifelse(both > 0, rows$weight / both, NA)
  rows
}
