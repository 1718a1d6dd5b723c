# Expected values for control charts, funnel plots, shrinkage, pooling and segmented regression, by R's own distributions, glm and
# the package metafor (Debian: r-cran-metafor), on 1,000 random inputs each.
#
#   Rscript tests/reference/charts.R OUTFILE
#
# Writes rows of statistic,inputs,expected: numbers separated by spaces, lists by semicolons, 13 significant digits. Inputs are rounded before
# they are used, so that what is printed is what was computed with.
suppressPackageStartupMessages(library(metafor))

arguments <- commandArgs(trailingOnly = TRUE)
if (length(arguments) != 1) stop("usage: Rscript charts.R OUTFILE")
set.seed(20260401, kind = "Mersenne-Twister", normal.kind = "Inversion", sample.kind = "Rejection")

rows <- character(0)
text <- function(values) paste(sub("^-0$", "0", formatC(values, digits = 13, format = "g", width = -1)), collapse = " ")
add <- function(statistic, inputs, expected) {
  stopifnot(all(is.finite(expected)))
  rows[[length(rows) + 1]] <<- paste(statistic, paste(vapply(inputs, text, ""), collapse = ";"), text(expected), sep = ",")
}
times <- function(n, make) for (i in seq_len(n)) while (is.null(make())) NULL
cases <- 1000
tail3 <- pnorm(-3)

# p chart: 6 points, the first 4 the baseline; centre, then limits of the last point: exact, normal, p'; then sigma_z.
times(cases, function() {
  n <- sample(1:80, 6, TRUE); k <- rbinom(6, n, runif(1)); centre <- sum(k[1:4]) / sum(n[1:4])
  if (centre %in% c(0, 1)) return(NULL)
  se <- sqrt(centre * (1 - centre) / n); z <- (k / n - centre)[1:4] / se[1:4]; sz <- mean(abs(diff(z))) / 1.128
  cut <- function(x) pmin(1, pmax(0, x))
  add("p", list(k, n, 4), c(centre, qbinom(tail3, n[6], centre) / n[6], qbinom(tail3, n[6], centre, lower.tail = FALSE) / n[6],
    cut(centre + c(-3, 3) * se[6]), cut(centre + c(-3, 3) * sz * se[6]), sz))
  TRUE
})
# u chart, the same.
times(cases, function() {
  t <- round(runif(6, 0.5, 30), 2); k <- rpois(6, t * runif(1, 0.05, 3)); centre <- sum(k[1:4]) / sum(t[1:4])
  if (centre == 0) return(NULL)
  se <- sqrt(centre / t); z <- (k / t - centre)[1:4] / se[1:4]; sz <- mean(abs(diff(z))) / 1.128
  add("u", list(k, t, 4), c(centre, qpois(tail3, centre * t[6]) / t[6], qpois(tail3, centre * t[6], lower.tail = FALSE) / t[6],
    pmax(0, centre + c(-3, 3) * se[6]), pmax(0, centre + c(-3, 3) * sz * se[6]), sz))
  TRUE
})
# Individuals: mean, mean moving range, limits of values and of ranges.
times(cases, function() {
  x <- round(rnorm(7, 50, 10), 1); mr <- mean(abs(diff(x[1:5])))
  add("individuals", list(x, 5), c(mean(x[1:5]), mr, mean(x[1:5]) + c(-2.66, 2.66) * mr, 3.267 * mr))
  TRUE
})
# Cases between: median and exact limits; limits about the mean.
times(cases, function() {
  x <- rgeom(6, runif(1, 0.0005, 0.4)) + 1; m <- mean(x[1:5])
  if (m == 1) return(NULL)
  half <- 3 * sqrt(m * (m - 1))
  add("g", list(x, 5), c(qgeom(0.5, 1 / m) + 1, qgeom(tail3, 1 / m) + 1, qgeom(tail3, 1 / m, lower.tail = FALSE) + 1, max(1, m - half), m + half))
  TRUE
})
# Times between: median and exact limits; Nelson's limits in the unit of time.
times(cases, function() {
  x <- round(rexp(7, 1 / runif(1, 1, 300)), 1); m <- mean(x[1:6])
  if (m == 0) return(NULL)
  y <- x[1:6]^0.2777; mr <- mean(abs(diff(y)))
  add("t", list(x, 6), c(qexp(0.5, 1 / m), qexp(tail3, 1 / m), qexp(tail3, 1 / m, lower.tail = FALSE), c(mean(y), max(0, mean(y) - 2.66 * mr), mean(y) + 2.66 * mr)^(1 / 0.2777)))
  TRUE
})
# Cumulative observed over expected at the last of 5 points.
times(cases, function() {
  e <- round(runif(5, 0.01, 4), 3); o <- rpois(5, e); O <- sum(o); E <- sum(e)
  add("cumulative", list(o, e), c(O / E, if (O == 0) 0 else qgamma(0.025, O) / E, qgamma(0.975, O + 1) / E))
  TRUE
})
# Funnel limits at a target and a size: exact, then interpolated (not cut), at 2.5, 97.5, 0.1 and 99.9 %.
times(cases, function() {
  target <- round(runif(1, 0.01, 0.99), 3); n <- sample(5:1500, 1); p <- c(0.025, 0.975, 0.001, 0.999)
  r <- vapply(p, function(q) { r <- qbinom(q, n, target); while (r > 0 && pbinom(r - 1, n, target) > q) r <- r - 1; while (pbinom(r, n, target) <= q) r <- r + 1; r }, 0)
  add("funnel", list(target, n), c(qbinom(0.025, n, target), qbinom(0.025, n, target, lower.tail = FALSE), qbinom(0.001, n, target), qbinom(0.001, n, target, lower.tail = FALSE),
    r - (pbinom(r, n, target) - p) / dbinom(r, n, target)) / n)
  TRUE
})
# Winsorised overdispersion.
times(cases, function() {
  k <- sample(5:20, 1); z <- round(rnorm(k, 0, runif(1, 0.5, 3)), 2); s <- round(runif(k, 0.01, 0.2), 3); q <- quantile(z, c(0.1, 0.9), names = FALSE)
  phi <- mean(pmin(pmax(z, q[1]), q[2])^2); w <- 1 / s^2
  add("dispersion", list(z, s), c(q, phi, max(0, (k * phi - (k - 1)) / (sum(w) - sum(w^2) / sum(w)))))
  TRUE
})
# Beta-binomial: mean and spread by the score equations (digamma), posterior mean and interval of the first group.
times(cases, function() {
  g <- sample(8:15, 1); n <- sample(15:90, g, TRUE); a <- runif(1, 0.5, 6); k <- rbinom(g, n, rbeta(g, a, runif(1, 0.5, 6)))
  at <- function(M) uniroot(function(m) sum(digamma(k + m * M) - digamma(m * M)) - sum(digamma(n - k + (1 - m) * M) - digamma((1 - m) * M)), c(1e-6, 1 - 1e-6), tol = 1e-16)$root
  score <- function(l) { M <- exp(l); m <- at(M); m * sum(digamma(k + m * M) - digamma(m * M)) + (1 - m) * sum(digamma(n - k + (1 - m) * M) - digamma((1 - m) * M)) - sum(digamma(n + M) - digamma(M)) }
  # Only where the spread is well determined; the likelihood is flat otherwise and no digits can be compared.
  if (score(log(0.05)) <= 0 || score(log(40)) >= 0) return(NULL)
  M <- exp(uniroot(score, log(c(0.05, 40)), tol = 1e-15)$root); m <- at(M)
  add("beta_binomial", list(k, n), c(m, 1 / M, (k[1] + m * M) / (n[1] + M), qbeta(c(0.025, 0.975), m * M + k[1], (1 - m) * M + n[1] - k[1])))
  TRUE
})
# Pooling: metafor. Value, error, tau2, I2, Q, chance of Q, Hartung-Knapp (never narrower), prediction on k - 2 degrees of freedom.
for (method in c("FE", "DL", "PM", "REML")) times(cases, function() {
  k <- sample(3:9, 1); v <- round(runif(k, 0.01, 0.5), 3); y <- round(rnorm(k, 0, sqrt(v + runif(1, 0, 1))), 3)
  control <- if (method == "REML") list(threshold = 1e-14, maxiter = 10000) else if (method == "PM") list(tol = 1e-15, maxiter = 10000, tau2.max = 1000) else list()
  fit <- tryCatch(rma(y, v, method = method, control = control), error = function(e) NULL)
  if (is.null(fit)) return(NULL)
  # Fisher scoring leaves 1e-15 where the estimate is 0.
  if (fit$tau2 < 1e-12) { fit$tau2 <- 0; if (method != "FE") fit$I2 <- 0 }
  w <- 1 / (v + fit$tau2); hk <- qt(0.975, k - 1) * fit$se * sqrt(max(1, sum(w * (y - fit$b[1])^2) / (k - 1)))
  wide <- qt(0.975, k - 2) * sqrt(fit$tau2 + fit$se^2)
  add(paste0("pool_", tolower(method)), list(y, v), c(fit$b[1], fit$se, fit$ci.lb, fit$ci.ub, fit$tau2, fit$I2 / 100, fit$QE, fit$QEp, fit$b[1] + c(-hk, hk), if (method == "FE") numeric(0) else fit$b[1] + c(-wide, wide)))
  TRUE
})
# The scale for pooling: logit by metafor.
times(cases, function() {
  n <- sample(1:200, 1); k <- rbinom(1, n, runif(1)); lo <- escalc("PLO", xi = k, ni = n)
  add("logit", list(k, n), c(lo$yi, lo$vi))
  TRUE
})
# Segmented regression: coefficients, standard errors (dispersion at least 1), dispersion, proportions at the end.
times(cases, function() {
  m <- sample(12:20, 1); change <- sample(5:(m - 5), 1); n <- sample(8:60, m, TRUE); t <- seq_len(m) - 1
  a <- as.numeric(t >= change); s <- pmax(0, t - change)
  k <- rbinom(m, n, plogis(rnorm(1) + rnorm(1, 0, 0.05) * t + rnorm(1, 0, 0.5) * a + rnorm(1, 0, 0.05) * s + rnorm(m, 0, runif(1, 0, 0.5))))
  fit <- suppressWarnings(glm(cbind(k, n - k) ~ t + a + s, family = quasibinomial, control = glm.control(epsilon = 1e-15, maxit = 100)))
  # Started at its own answer, so that the weights behind the standard errors are those of the answer and not of the step before.
  fit <- suppressWarnings(update(fit, start = coef(fit)))
  if (!fit$converged || max(abs(coef(fit))) > 8) return(NULL)
  phi <- summary(fit)$dispersion; se <- sqrt(diag(summary(fit)$cov.unscaled) * max(1, phi))
  half <- qt(0.975, m - 4) * se[3]
  add("segmented", list(k, n, change), c(coef(fit), se, phi, exp(coef(fit)[3] + c(-half, half)), fitted(fit)[m], plogis(coef(fit)[1] + coef(fit)[2] * t[m])))
  TRUE
})

writeLines(c("statistic,inputs,expected", rows), arguments[[1]])
