# How long a true signal stays current, by which month its level is compared with: Rscript tests/reference/standing.R [DEPARTMENTS]
# 24 months of history, 36 reports, Poisson cases, months that vary by chance alone; one row a kind of change. Run by hand: minutes.
source("tests/reference/verdict.R")
arguments <- commandArgs(trailingOnly = TRUE)
departments <- if (length(arguments)) as.integer(arguments[1]) else 150
RNGkind("Mersenne-Twister", "Inversion", "Rejection")
set.seed(7)
report <- seq_len(60) - 24
step <- function(before, after, first) ifelse(report >= first, after, before)
kinds <- list(
  list("15 > 30 % in month 13, 10 a month", step(0.15, 0.30, 13), 10, "worse", 13),
  list("15 > 30 % in month 13, 25 a month", step(0.15, 0.30, 13), 25, "worse", 13),
  list("15 > 25 % in month 13, 25 a month", step(0.15, 0.25, 13), 25, "worse", 13),
  list("20 > 10 % in month 13, 25 a month", step(0.20, 0.10, 13), 25, "better", 13),
  list("15 > 30 % in month 1, 25 a month", step(0.15, 0.30, 1), 25, "worse", 1))
for (kind in kinds) {
  kept <- list(likeliest = NULL, from = NULL)
  signals <- 0
  for (i in seq_len(departments)) {
    n <- rpois(60, kind[[3]])
    test <- monthly_test(rbinom(60, n, kind[[2]]), n, 24)
    # The last one looked at has 11 reports after it.
    right <- Filter(function(s) s$way == kind[[4]] && s$month >= 24 + kind[[5]] - 1 && s$month <= 48, test$signals)
    if (length(right) == 0) next
    signals <- signals + 1
    for (before in names(kept)) {
      chance <- still_beyond(test, right[[1]], 60, before)$chance
      kept[[before]] <- rbind(kept[[before]], cumprod(chance[-1] >= 0.8)[c(1, 6, 11)])
    }
  }
  share <- function(before) paste(round(100 * colMeans(kept[[before]])), collapse = " / ")
  cat(sprintf("%s: %d signals; current 1 / 6 / 11 reports later: before the likeliest month %s %%, before the first month %s %%\n",
              kind[[1]], signals, share("likeliest"), share("from")))
}
