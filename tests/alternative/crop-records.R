# A row for each crop of a tree in a season, put together from the entries: counts, picks, drops, single weights.
DEFECTS <- c("split", "bird", "insect", "animal", "mould", "unripe")

# Sums of values by what they belong to, for each of `keys`; 0 for a key that nothing belongs to.
total <- function(values, of, keys) {
  as.vector(rowsum(c(values, numeric(length(keys))), c(of, keys))[as.character(keys), ])
}

crop_records <- function(read) {
  dated <- function(name) {
    data <- read(name)
    data$date <- as.Date(data$date)
    data$key <- paste(data$tree, data$season, data$crop)
    data[order(data$date), ]
  }
  counts <- dated("counts")
  picks <- weighed_picks(dated("picks"), read("weights"))
  drops <- dated("drops")
  place <- c("key", "tree", "cultivar", "season", "crop", "site", "date")
  gone <- rbind(picks[c(place, "fruit")], drops[c(place, "fruit")])
  gone <- gone[order(gone$date), ]

  record <- rbind(counts[place], gone[place])
  record <- record[!duplicated(record$key), c("key", "tree", "cultivar", "season", "crop")]
  key <- record$key
  first_of <- function(data) data[match(key, data$key), ]

  # Load: the most fruit hanging at a count and gone on days before it; at least all that was gathered.
  fruit <- split(gone$fruit, gone$key)
  day <- split(gone$date, gone$key)
  before <- function(key, on) sum(fruit[[key]][day[[key]] < on])
  counts$load <- counts$fruit + mapply(before, counts$key, counts$date)
  most <- first_of(counts[order(-counts$load), ])
  gathered <- total(gone$fruit, gone$key, key)
  by_count <- !is.na(most$load) & most$load >= gathered
  record$load <- ifelse(by_count, most$load, gathered)
  record$site <- ifelse(by_count, most$site, first_of(gone)$site)

  # Branches: of the count that gave the load, else of the last count of the crop, else of the tree.
  last <- counts[rev(order(counts$date, counts$crop == "main")), ]
  last <- last[!is.na(last$branches), ]
  of_tree <- last$branches[match(paste(record$tree, record$season), paste(last$tree, last$season))]
  branches <- ifelse(by_count, most$branches, NA)
  branches <- ifelse(is.na(branches), first_of(last)$branches, branches)
  record$branches <- ifelse(is.na(branches), of_tree, branches)

  record$dropped <- total(drops$fruit, drops$key, key)
  for (what in c("fruit", DEFECTS, "weighed", "counted_fruit", "counted_weight", "weight")) {
    record[[what]] <- total(picks[[what]], picks$key, key)
  }
  record$sound <- record$fruit - rowSums(record[DEFECTS])
  record
}

# Fruit picked out as the best tell nothing of the others.
usual_weights <- function(weights) weights[is.na(weights$sampled) | weights$sampled != "best", ]

# What a pick tells of weight: all fruit on the scales together, else its fruit weighed singly.
weighed_picks <- function(picks, weights) {
  of_pick <- function(values, from) total(values, from$entry, picks$entry)
  one <- function(from) rep(1, nrow(from))
  usual <- usual_weights(weights)
  singles <- of_pick(one(usual), usual)
  single_weight <- of_pick(usual$weight, usual)
  all_singles <- of_pick(one(weights), weights)
  together <- !is.na(picks$weightTogether)
  whole <- together & picks$fruit > 0
  picks$weighed <- ifelse(whole, picks$fruit, all_singles)
  picks$counted_fruit <- ifelse(whole, picks$fruit, singles)
  picks$counted_weight <- ifelse(whole, picks$weightTogether, single_weight)
  stretched <- ifelse(singles > 0, picks$fruit * single_weight / singles, NA)
  added_up <- ifelse(all_singles >= picks$fruit, of_pick(weights$weight, weights), stretched)
  picks$weight <- ifelse(together, picks$weightTogether, added_up)
  picks
}
