# Figures that `lm` gives: means of scores and their analysis of variance, slopes over environments, a plain index.

# y = first + others by least squares, the effects of each other factor adding up to 0: the coefficients of the
# first factor are then its means with every level of the others weighing the same. In a layout that falls apart,
# only differences inside a part mean anything.
additive <- function(y, first, others, may_fall_apart = FALSE) {
  data <- data.frame(y, first = factor(first), lapply(others, factor))
  sums <- lapply(others, function(one) "contr.sum")
  fit <- lm(reformulate(c("0", "first", names(others)), "y"), data, contrasts = sums)
  if (!may_fall_apart && anyNA(coef(fit))) stop("the layout falls apart: not all means can be compared")
  of <- levels(data$first)
  list(fit = fit, of = of, means = setNames(coef(fit)[seq_along(of)], of))
}

# Scores of fruit tasted ripe; a sample that does not say was.
ripe_scores <- function(read) {
  scores <- read("scores")
  samples <- read("samples")
  samples <- samples[match(scores$sample, samples$sample), ]
  scores$site <- samples$site
  scores[is.na(samples$ripeness) | samples$ripeness == "ripe", ]
}

# Squared standard errors of the differences of all means.
difference_variances <- function(model) {
  shared <- vcov(model$fit)[seq_along(model$of), seq_along(model$of)]
  outer(diag(shared), diag(shared), "+") - 2 * shared
}

score_means <- function(own, model) {
  at <- seq_along(model$of)
  limits <- confint(model$fit)[at, ]
  # Tukey and Kramer: how many others each mean differs from at 0.05.
  studentized <- abs(outer(model$means, model$means, "-")) / sqrt(difference_variances(model) / 2)
  least <- qtukey(0.95, length(at), model$fit$df.residual)
  distinct <- function(values) tapply(values, own$cultivar, function(one) length(unique(one)))[model$of]
  data.frame(
    of = model$of, mean = model$means, se = sqrt(diag(vcov(model$fit)))[at], low = limits[, 1], high = limits[, 2],
    raw = tapply(own$score, own$cultivar, mean)[model$of],
    samples = distinct(own$sample), tasters = distinct(own$taster),
    place = rank(-model$means, ties.method = "min"), apart = rowSums(studentized > least, na.rm = TRUE)
  )
}

score_anova <- function(own, model) {
  lines <- anova(lm(score ~ entry + taster + cultivar, own))
  errors <- sqrt(difference_variances(model)[lower.tri(diag(length(model$of)))])
  lsd <- median(errors) * qt(0.975, model$fit$df.residual)
  data.frame(
    of = c("sittings", "tasters", "cultivars", "rest"), ss = lines[["Sum Sq"]], df = lines[["Df"]],
    ms = lines[["Mean Sq"]], f = lines[["F value"]], p = lines[["Pr(>F)"]], lsd = c(NA, NA, NA, lsd)
  )
}

# Fruit per branch of each cultivar in each season at each site.
environment_cells <- function(record) {
  known <- record[!is.na(record$branches), ]
  cells <- aggregate(cbind(load, branches) ~ season + site + cultivar + crop, known, sum)
  cells <- cells[cells$branches > 0, ]
  is_new <- !duplicated(paste(record$crop, record$tree))
  cells$trees <- total(is_new, paste(record$crop, record$cultivar), paste(cells$crop, cells$cultivar))
  transform(cells, rate = load / branches, environment = paste(season, site))
}

# The cells of environments that two cultivars share, with how good each environment is.
with_environment_effects <- function(cells) {
  shared <- cells[cells$environment %in% names(which(table(cells$environment) > 1)), ]
  model <- additive(shared$rate, shared$environment, shared["cultivar"], may_fall_apart = TRUE)
  transform(shared, good = model$means[environment])
}

# The line of Finlay and Wilkinson 1963, of three environments or more.
slope <- function(cells, shared) {
  points <- shared[shared$cultivar == cells$cultivar[1], ]
  told <- data.frame(environments = nrow(cells), mean = mean(cells$rate), trees = cells$trees[1])
  if (nrow(points) < 3) return(transform(told, slope = NA, slopeSe = NA, slopeLow = NA, slopeHigh = NA))
  line <- lm(rate ~ good, points)
  limits <- confint(line)[2, ]
  transform(
    told,
    slope = coef(line)[[2]], slopeSe = sqrt(vcov(line)[2, 2]), slopeLow = limits[[1]], slopeHigh = limits[[2]]
  )
}

# As under `rank` in both ledgers: bands go from 1 to 10.
WEIGHTS <- c(flavour = 3, sweetness = 2, productivity = 2, size = 1, soundness = 2)
BANDS <- list(productivity = c(0, 4), size = c(20, 80), soundness = c(0.5, 1))

# The weighted index from least-squares means of each part; cultivars that have all parts.
plain_index <- function(record, scores) {
  tasted <- function(trait) {
    own <- scores[scores$trait == trait, ]
    additive(own$score, own$cultivar, own[c("entry", "taster", "site")])$means
  }
  measured <- function(part, above, below) {
    own <- record[!is.na(record[[below]]) & record[[below]] > 0, ]
    means <- additive(own[[above]] / own[[below]], own$cultivar, own[c("season", "site")])$means
    setNames(approx(BANDS[[part]], c(1, 10), means, rule = 2)$y, names(means))
  }
  parts <- list(
    flavour = tasted("flavour"), sweetness = tasted("sweetness"),
    productivity = measured("productivity", "load", "branches"),
    size = measured("size", "counted_weight", "counted_fruit"), soundness = measured("soundness", "sound", "fruit")
  )
  of <- Reduce(intersect, lapply(parts, names))
  whole <- data.frame(lapply(parts, function(part) part[of]))
  data.frame(of = of, whole, index = as.vector(as.matrix(whole) %*% (WEIGHTS / sum(WEIGHTS))), row.names = NULL)
}
