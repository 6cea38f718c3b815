# Figures of a trial in base R, from the entries in the tables that `pomary export` writes.
# Usage: Rscript figures.R TABLES REPORT...; prints CSV: report, crop, of, trait, figure, value.
# Rscript tells the spaces of its own path as ~+~.
script <- gsub("~+~", " ", sub("--file=", "", grep("--file=", commandArgs(), value = TRUE)), fixed = TRUE)
for (file in c("crop-records.R", "harvest.R", "least-squares.R")) source(file.path(dirname(script), file))
argv <- commandArgs(trailingOnly = TRUE)
asked <- function(...) any(c(...) %in% argv[-1])

table_of <- function(name) {
  read.csv(file.path(argv[1], paste0(name, ".csv")), na.strings = "", encoding = "UTF-8")
}
cultivars <- table_of("cultivars")
# A table with cultivars by name, as the reports have them.
read <- function(name) {
  data <- table_of(name)
  data$cultivar <- cultivars$name[match(data$cultivar, cultivars$cultivar)]
  data
}

# Prints a table: a row for each crop, `of` and trait, the other columns figures; what is not known is left out.
tell <- function(report, wide) {
  ids <- c("crop", "of", "trait")
  if (is.null(wide$trait)) wide$trait <- rep("", nrow(wide))
  for (figure in setdiff(names(wide), ids)) {
    known <- wide[!is.na(wide[[figure]]), c(ids, figure)]
    if (nrow(known) == 0) next
    told <- data.frame(report, known[ids], figure, value = sprintf("%.17g", known[[figure]]))
    write.table(told, sep = ",", qmethod = "double", row.names = FALSE, col.names = FALSE)
  }
}

# A row of figures for each crop of each cultivar, or of whatever `by` names.
each <- function(data, by, figures) {
  one <- function(own) data.frame(crop = own$crop[1], of = own[[by]][1], figures(own))
  do.call(rbind, lapply(split(data, paste(data[[by]], data$crop)), one))
}

if (!all(argv[-1] == "scores")) record <- crop_records(read)
if (asked("scores", "rank")) scores <- ripe_scores(read)

for (by in c("tree", "cultivar")) {
  report <- paste("yield by", by)
  if (!asked(report)) next
  girths <- latest_girths(read("growth"))
  tell(report, each(record, by, function(own) yields(own, girths)))
}
if (asked("weights")) {
  singles <- usual_weights(read("weights"))
  tell("weights", each(record[record$fruit > 0, ], "cultivar", function(own) weights_of(own, singles)))
}
if (asked("soundness")) {
  tell("soundness", each(record[record$fruit + record$dropped > 0, ], "cultivar", soundness))
}
if (asked("crops")) tell("crops", tallies(record))
if (asked("stability")) {
  cells <- environment_cells(record)
  for (own in split(cells, cells$crop)) {
    shared <- with_environment_effects(own)
    tell("stability", each(own, "cultivar", function(one) slope(one, shared)))
  }
}
if (asked("scores")) {
  for (own in split(scores, paste(scores$crop, scores$trait))) {
    ids <- own[1, c("crop", "trait")]
    model <- additive(own$score, own$cultivar, own[c("entry", "taster")])
    tell("scores", data.frame(ids, score_means(own, model), row.names = NULL))
    tell("anova", data.frame(ids, score_anova(own, model), row.names = NULL))
  }
}
if (asked("rank")) {
  for (crop in unique(scores$crop)) {
    tell("rank", data.frame(crop, plain_index(record[record$crop == crop, ], scores[scores$crop == crop, ])))
  }
}
