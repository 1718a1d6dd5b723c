# The reference tables of R: run after make.py, whose inputs it reads. Rscript tests/reference/make.R [FOLDER]
# Base R, and metafor for Peto's odds ratio (Debian: r-base-core r-cran-metafor). R 4.2.2's fisher.test stops its search for the exact odds ratio at 1e-4: not a reference for it.
arguments <- commandArgs(trailingOnly = TRUE)
folder <- if (length(arguments)) arguments[1] else "tests/fixtures/reference"
read <- function(name) read.csv(file.path(folder, paste0(name, ".csv")), colClasses = "character")
save <- function(name, frame) {
  frame[] <- lapply(frame, function(x) if (is.character(x)) x else ifelse(is.na(x), "", formatC(x, digits = 13, format = "g", width = 1)))
  write.csv(frame, file.path(folder, paste0(name, ".csv")), row.names = FALSE, quote = FALSE)
}
number <- as.numeric
options(warn = -1)

# prop.test's interval is Wilson's with continuity correction; it leaves the correction out where met is half of eligible.
p <- read("proportion")
ends <- mapply(function(x, n, level) if (2 * x == n) c(NA, NA) else prop.test(x, n, conf.level = level)$conf.int, number(p$met), number(p$eligible), number(p$level))
save("r_proportion", data.frame(met = p$met, eligible = p$eligible, level = p$level, lower = ends[1, ], upper = ends[2, ]))

# Two rates: conditional exact ratio and p.
set.seed(20260301)
n <- 1000
r <- data.frame(k1 = rpois(n, exp(runif(n, -1, 7))), t1 = round(exp(runif(n, 0, 6)), 2), k2 = rpois(n, exp(runif(n, -1, 7))) + 1, t2 = round(exp(runif(n, 0, 6)), 2),
                level = sample(c(0.8, 0.9, 0.95, 0.99), n, TRUE))
out <- mapply(function(k1, t1, k2, t2, level) {
  test <- poisson.test(c(k1, k2), c(t1, t2), conf.level = level)
  c(test$estimate, test$conf.int, test$p.value)
}, r$k1, r$t1, r$k2, r$t2, r$level)
save("r_rate_ratio", cbind(r, ratio = out[1, ], lower = out[2, ], upper = out[3, ], p = out[4, ]))

# Trend and homogeneity.
rows <- lapply(1:n, function(i) {
  k <- sample(3:7, 1)
  size <- sample(5:300, k, TRUE)
  met <- rbinom(k, size, runif(k, 0.2, 0.8))
  score <- sort(round(runif(k, 0, 10), 2))
  trend <- prop.trend.test(met, size, score)
  same <- prop.test(met, size, correct = FALSE)
  data.frame(met = paste(met, collapse = " "), eligible = paste(size, collapse = " "), scores = paste(score, collapse = " "),
             chi_square = unname(trend$statistic), p = trend$p.value, homogeneity = unname(same$statistic), homogeneity_p = same$p.value)
})
save("r_trend", do.call(rbind, rows))

# Mantel-Haenszel: the corrected test (R leaves the half out where the distance is below it: left empty) and the odds ratio's interval.
s <- read("strata")
out <- mapply(function(tables, level) {
  x <- array(sapply(strsplit(strsplit(tables, ";")[[1]], " "), function(cell) number(cell)[c(1, 3, 2, 4)]), c(2, 2, length(strsplit(tables, ";")[[1]])))
  test <- mantelhaen.test(x, conf.level = number(level))
  distance <- abs(sum(apply(x, 3, function(t) t[1, 1] - sum(t[1, ]) * sum(t[, 1]) / sum(t))))
  c(if (distance < 0.5) c(NA, NA) else c(test$statistic, test$p.value), test$estimate, test$conf.int)
}, s$tables, s$level)
save("r_strata", data.frame(tables = s$tables, level = s$level, cmh = out[1, ], cmh_p = out[2, ], odds_ratio = out[3, ], lower = out[4, ], upper = out[5, ]))

# Power of a comparison of two proportions (one direction, as R's default), and the size for a given power.
w <- data.frame(p1 = round(runif(n, 0.02, 0.48), 3), p2 = round(runif(n, 0.52, 0.98), 3), n = sample(5:200, n, TRUE), level = sample(c(0.9, 0.95, 0.99), n, TRUE))
w$power <- mapply(function(p1, p2, n, level) power.prop.test(n, p1, p2, 1 - level)$power, w$p1, w$p2, w$n, w$level)
save("r_power", w)

# Peto's odds ratio over the strata, with Q, by metafor; single tables too, where it has no Q.
out <- mapply(function(tables, level) {
  x <- do.call(rbind, lapply(strsplit(strsplit(tables, ";")[[1]], " "), number))
  found <- metafor::rma.peto(ai = x[, 1], bi = x[, 2], ci = x[, 3], di = x[, 4], level = 100 * number(level), add = 0, drop00 = TRUE)
  one <- metafor::rma.peto(ai = x[1, 1], bi = x[1, 2], ci = x[1, 3], di = x[1, 4], level = 100 * number(level), add = 0)
  c(exp(c(found$b, found$ci.lb, found$ci.ub)), found$QE, found$QEp, exp(c(one$b, one$ci.lb, one$ci.ub)))
}, s$tables, s$level)
save("r_peto", data.frame(tables = s$tables, level = s$level, odds_ratio = out[1, ], lower = out[2, ], upper = out[3, ], q = out[4, ], q_p = out[5, ],
                          one = out[6, ], one_lower = out[7, ], one_upper = out[8, ]))

# Fisher's exact test of tables of r rows and c columns.
rows <- lapply(1:n, function(i) {
  x <- matrix(rpois(sample(2:4, 1) * (k <- sample(2:4, 1)), runif(1, 0.5, 3)), ncol = k)
  x <- x[rowSums(x) > 0, colSums(x) > 0, drop = FALSE]
  data.frame(table = paste(apply(x, 1, paste, collapse = " "), collapse = ";"), p = if (all(dim(x) > 1)) fisher.test(x, workspace = 2e7)$p.value else NA)
})
save("r_exact_table", do.call(rbind, rows))
