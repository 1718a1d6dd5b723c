# Twelve invented departments of known truths, for verdict.R: Rscript tests/reference/departments.R [FOLDER]. Base R, fixed seed.
# About 30 cases a month (25 to 40; "too few" has at most two), 24 months of history, 36 reports. A rate is that of the unwelcome event.
arguments <- commandArgs(trailingOnly = TRUE)
folder <- if (length(arguments)) arguments[1] else "tests/reference/verdict"
RNGkind("Mersenne-Twister", "Inversion", "Rejection")
set.seed(20261130)
history <- 24
months <- history + 36
report <- seq_len(months) - history
after <- function(first, before, then) ifelse(report >= first, then, before)

# Harder patients: one in four with a rate of 40 % instead of 12 % become one in two. Care is the same, the counts rise.
mixed <- function(hard) 0.12 * (1 - hard) + 0.40 * hard
truths <- list(
  stable = rep(0.15, months),
  early_change = after(1, 0.18, 0.27),
  late_change = after(25, 0.15, 0.32),
  relapse = ifelse(report < 7, 0.22, ifelse(report < 22, 0.08, 0.28)),
  drift = 0.15 + 0.15 * pmax(0, report) / 36,
  moved_mix = mixed(after(13, 0.25, 0.60)),
  moved_missingness = after(13, 0.24, 0.09),
  season = 0.15 + 0.05 * sin(2 * pi * seq_len(months) / 12),
  one_bad_month = ifelse(report == 18, 0.50, 0.15),
  capture_fell = after(13, 0.22, 0.07),
  too_few = rep(0.15, months),
  improvement_planned = after(19, 0.24, 0.10))
rows <- do.call(rbind, lapply(names(truths), function(name) {
  eligible <- if (name == "too_few") sample(0:2, months, TRUE) else pmin(40, pmax(25, rpois(months, 31)))
  flagged <- function(which, first) if (name == which) as.integer(report >= first) else integer(months)
  data.frame(department = name, measure = "unwelcome_event", month = seq_len(months) - 1, eligible = eligible,
             unwelcome = rbinom(months, eligible, truths[[name]]), history = history,
             capture_fell = flagged("capture_fell", 13), field_moved = flagged("moved_missingness", 13))
}))
write.csv(rows, file.path(folder, "departments.csv"), row.names = FALSE, quote = FALSE)

# The month of the change takes no part: 12 months before it, and as many after it as were declared.
write.csv(data.frame(
  department = c("early_change", "season", "late_change", "one_bad_month", "capture_fell", "improvement_planned", "drift"),
  measure = "unwelcome_event",
  change = history + c(0, 11, 23, 30, 11, 17, 12), before = 12, judged_after = c(12, 12, 12, 12, 12, 12, 18),
  expected = c("same", "down", "same", "down", "down", "down", "down")),
  file.path(folder, "evaluations.csv"), row.names = FALSE, quote = FALSE)
