# Loads the analysis set beside this file, and prints the headline table of its month's report as CSV.
#
# R 4.0 or later, no packages: `Rscript read.R`. In a session: `source("read.R")`, then `tables <- load_set()`.
# Each table is a data frame: yes and no are TRUE and FALSE, coded columns are factors with labels, an empty cell is NA, and its reason
# stands in the column of the same name with _missing. With arrow or nanoparquet: read_parquet("parquet/procedure.parquet").
#
# For audit, teaching and improvement: not for bedside decisions, not for judging an individual. Records are personal data of the department.

month <- "@MONTH@"
from <- "@FROM@"
arguments <- commandArgs(FALSE)
script <- sub("^--file=", "", grep("^--file=", arguments, value = TRUE))
folder <- if (length(script) == 1) dirname(normalizePath(script)) else "."

read_table <- function(name)
  read.csv(file.path(folder, paste0(name, ".csv")), colClasses = "character", check.names = FALSE, encoding = "UTF-8", na.strings = "")

# All tables by name, with typed columns; coded columns become factors with their labels.
load_set <- function() {
  codebook <- read_table("codebook")
  labels <- read_table("labels")
  tables <- list()
  for (name in unique(codebook$table)) {
    table <- read_table(name)
    for (i in which(codebook$table == name)) {
      column <- codebook$column[i]
      cells <- table[[column]]
      coded <- labels[labels$table == name & labels$column == column, ]
      table[[column]] <- switch(codebook$type[i],
        "yes/no" = cells == "yes", "integer" = as.integer(cells), "number" = as.numeric(cells), "date" = as.Date(cells),
        if (nrow(coded) > 0) factor(cells, levels = coded$value, labels = make.unique(coded$label)) else cells)
    }
    tables[[name]] <- table
  }
  tables
}

# Wilson's 95 % interval of all months; wider where months vary more than chance alone (Pearson dispersion above 1).
year_interval <- function(met, cases) {
  keep <- cases > 0
  met <- met[keep]
  cases <- cases[keep]
  all <- c(sum(met), sum(cases))
  rate <- (all[1] + 0.5) / (all[2] + 1)
  z <- qnorm(0.975)
  dispersion <- 1
  if (length(met) > 1) {
    varies <- sum((met - cases * rate)^2 / (cases * rate * (1 - rate))) / (length(met) - 1)
    if (varies > 1) {
      dispersion <- varies
      z <- qt(0.975, length(met) - 1)
    }
  }
  x <- all[1] / dispersion
  n <- all[2] / dispersion
  centre <- (x + z^2 / 2) / (n + z^2)
  half <- z * sqrt(x * (n - x) / n + z^2 / 4) / (n + z^2)
  value <- all[1] / all[2]
  list(lower = if (all[1] == 0) 0 else min(max(centre - half, 0), value),
       upper = if (all[1] == all[2]) 1 else max(min(centre + half, 1), value), varies = dispersion > 1)
}

bare <- function(value, per) {
  text <- sprintf("%.1f", floor(value * per * 10 + 0.5 + 1e-9) / 10)
  if (value > 0 && text == "0.0") "<0.1" else if (value < 1 && text == sprintf("%d.0", per)) sprintf(">%d.9", per - 1L) else text
}

number <- function(value) format(value, big.mark = ",", scientific = FALSE, trim = TRUE)

# The headline table: measure, this month, last 12 months with interval and missing records.
headline <- function(tables) {
  definitions <- tables$measure_definitions
  definitions <- definitions[definitions$headline & definitions$answered & definitions$kind == "proportion", ]
  cells <- tables$measures
  rows <- lapply(seq_len(nrow(definitions)), function(i) {
    measure <- definitions[i, ]
    own <- cells[cells$measure == measure$measure & cells$month >= from & cells$month <= month, ]
    met <- tapply(own$met %in% TRUE, own$month, sum)
    eligible <- tapply(own$eligible %in% TRUE, own$month, sum)
    this <- if (month %in% names(eligible) && eligible[[month]] > 0)
      paste0(number(met[[month]]), "/", number(eligible[[month]])) else "none eligible"
    year <- "none eligible"
    if (sum(eligible) > 0) {
      unit <- if (measure$per == 100) "%" else paste("per", number(measure$per))
      interval <- year_interval(as.numeric(met), as.numeric(eligible))
      missing <- sum(own$missing)
      year <- paste0(number(sum(met)), "/", number(sum(eligible)), ", ", bare(sum(met) / sum(eligible), measure$per), " ", unit, " (",
        bare(interval$lower, measure$per), " to ", bare(interval$upper, measure$per), " ", unit, ")", if (interval$varies) "*" else "",
        if (missing > 0) paste0("; ", number(missing), " missing") else "")
    }
    data.frame(measure = measure$title, this_month = this, last_12_months = year)
  })
  do.call(rbind, rows)
}

if (length(script) == 1 && basename(script) == "read.R")
  write.csv(headline(load_set()), stdout(), row.names = FALSE, quote = TRUE)
