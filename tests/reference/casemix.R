# Makes the expected values of tests/fixtures/casemix and the data beside them with R: Rscript tests/reference/casemix.R OUTDIR
# Debian: r-base-core r-cran-mass r-cran-mgcv r-cran-proc r-cran-brglm2 r-cran-jsonlite
suppressPackageStartupMessages({ library(MASS); library(pROC); library(brglm2); library(jsonlite) })
here <- commandArgs(trailingOnly = TRUE)
if (length(here) != 1) stop("usage: Rscript casemix.R OUTDIR")
save_json <- function(x, file) writeLines(toJSON(x, digits = NA, auto_unbox = TRUE, pretty = FALSE), file.path(here, file))
save_csv <- function(x, file) write.csv(x, file.path(here, file), row.names = FALSE, quote = FALSE)
# R takes standard errors from the step before the last, so a second fit starts where the first ended.
exact <- function(...) {
  control <- glm.control(epsilon = 1e-14, maxit = 100)
  glm(..., family = binomial, control = control, start = coef(glm(..., family = binomial, control = control)))
}

# The data, as facts: the columns that the published models use.
b <- birthwt[, c("low", "age", "lwt", "race", "smoke", "ptl", "ht", "ui", "ftv")]
save_csv(b, "birthwt.csv")
data(aSAH); a <- data.frame(outcome = as.integer(aSAH$outcome == "Poor"), s100b = aSAH$s100b, wfns = as.integer(as.character(aSAH$wfns)), ndka = aSAH$ndka)
save_csv(a[order(a$outcome, a$s100b, a$wfns, a$ndka), ], "asah.csv")
data(endometrial); e <- endometrial[, c("HG", "NV", "PI", "EH")]
save_csv(e[order(e$HG, e$NV, e$PI, e$EH), ], "endometrial.csv")

model <- function(fit) list(coef = unname(coef(fit)), se = unname(sqrt(diag(vcov(fit)))), loglik = as.numeric(logLik(fit)))
b$race <- factor(b$race)
full <- exact(low ~ age + lwt + race + smoke + ptl + ht + ui + ftv, data = b)
profile <- suppressMessages(confint(full))
p <- fitted(full); offset <- qlogis(p)
shrunk <- plogis(0.3 + 0.7 * offset)          # a model that is wrong in a known way
recal <- exact(b$low ~ qlogis(shrunk)); large <- exact(b$low ~ offset(qlogis(shrunk)))
save_json(list(
  full = c(model(full), list(profile = unname(as.matrix(profile)), auc = as.numeric(auc(roc(b$low, p, quiet = TRUE))), brier = mean((p - b$low)^2))),
  recalibration = list(slope = unname(coef(recal)[2]), slope_se = sqrt(vcov(recal)[2, 2]), intercept = unname(coef(large)[1]), intercept_se = sqrt(vcov(large)[1, 1]),
                       brier = mean((shrunk - b$low)^2))), "birthwt.json")
firth <- glm(HG ~ NV + PI + EH, data = e, family = binomial, method = "brglmFit", type = "AS_mean", epsilon = 1e-12, maxit = 1000)
save_json(list(firth = list(coef = unname(coef(firth)), se = unname(sqrt(diag(vcov(firth)))))), "endometrial.json")
r1 <- roc(a$outcome, a$s100b, quiet = TRUE); r2 <- roc(a$outcome, a$wfns, quiet = TRUE); r3 <- roc(a$outcome, a$ndka, quiet = TRUE)
one <- function(r) list(auc = as.numeric(auc(r)), ci = as.numeric(ci.auc(r))[c(1, 3)], variance = var(r))
save_json(list(s100b = one(r1), wfns = one(r2), ndka = one(r3)), "asah.json")

# Random problems: sizes, scales and effects that vary; R's glm, pROC and brglm2 answer. Numbers are rounded first, so that both read the same.
set.seed(20260331)
cases <- lapply(1:120, function(i) {
  n <- sample(40:90, 1); k <- sample(1:3, 1)
  x <- sapply(1:k, function(j) if (runif(1) < .4) rbinom(n, 1, runif(1, .25, .75)) else signif(rnorm(n, rnorm(1, 0, 5), 10^runif(1, -1, 2)), 5))
  z <- scale(x); z[is.nan(z)] <- 0
  y <- rbinom(n, 1, plogis(rnorm(1, 0, .5) + z %*% rnorm(k, 0, .6)))
  if (sum(y) < 6 || n - sum(y) < 6) return(NULL)
  fit <- exact(y ~ x)
  if (!fit$converged || any(abs(coef(fit)[-1] * apply(x, 2, sd)) > 4)) return(NULL)
  firth <- glm(y ~ x, family = binomial, method = "brglmFit", type = "AS_mean", epsilon = 1e-12, maxit = 1000)
  score <- signif(fitted(fit), 3); r <- roc(y, score, quiet = TRUE, direction = "<")
  list(x = lapply(seq_len(n), function(i) I(unname(x[i, ]))), y = I(y), fit = model(fit), firth = list(coef = unname(coef(firth)), se = unname(sqrt(diag(vcov(firth))))),
       score = I(unname(score)), auc = as.numeric(auc(r)), auc_var = var(r))
})
save_json(Filter(Negate(is.null), cases), "random.json")
# Standardised ratios: exact, mid-P and Byar's limits by R's own distributions.
midp <- function(k, tail, upper) uniroot(function(m) (if (upper) ppois(k - 1, m) + dpois(k, m) / 2 else 1 - ppois(k, m) + dpois(k, m) / 2) - tail, c(1e-9, 5 * k + 30), tol = 1e-13)$root
ratios <- lapply(1:200, function(i) { k <- sample(1:120, 1); e <- signif(k * runif(1, .4, 2.5), 6)
  list(observed = k, expected = e, exact = as.numeric(poisson.test(k, e)$conf.int),
       mid_p = c(midp(k, .025, FALSE), midp(k, .025, TRUE)) / e,
       byar = c(k * (1 - 1/(9*k) - qnorm(.975)/(3*sqrt(k)))^3, (k+1) * (1 - 1/(9*(k+1)) + qnorm(.975)/(3*sqrt(k+1)))^3) / e) })
save_json(ratios, "ratios.json")

# A ridge: mgcv's gam with the fixed penalty H, columns of standard deviation 1 (divisor n); covariance of the posterior, (X'WX + H)^-1.
suppressPackageStartupMessages(library(mgcv))
spread <- function(v) sqrt(mean((v - mean(v))^2))
ridge <- function(x, y) {
  x <- as.matrix(x); s <- apply(x, 2, spread); m <- colMeans(x); z <- sweep(sweep(x, 2, m), 2, s, "/")
  fit <- gam(y ~ z, family = binomial, H = diag(c(0, rep(.5, ncol(x)))), control = gam.control(epsilon = 1e-14, maxit = 500))
  back <- rbind(c(1, -m / s), cbind(0, diag(1 / s, ncol(x))))
  list(coef = as.numeric(back %*% coef(fit)), se = sqrt(diag(back %*% vcov(fit) %*% t(back))),
       loglik = sum(log(ifelse(y == 1, fitted(fit), 1 - fitted(fit)))))
}
births <- model.matrix(~ age + lwt + race + smoke + ptl + ht + ui + ftv, b)[, -1]
save_json(list(births = ridge(births, b$low), endometrial = ridge(e[, c("NV", "PI", "EH")], e$HG),
               random = lapply(Filter(Negate(is.null), cases), function(case) ridge(do.call(rbind, lapply(case$x, as.numeric)), as.numeric(case$y)))),
          "ridge.json")
# Models by pattern of missing fields: births of whom some lack the weight, the race or both. Each pattern of ten births or more has the ridge
# of all births that know its fields, any other the mean; one shift makes the chances add up. The variance of a sum of chances by
# differentiating it in each outcome, numerically, each fit made anew (outcomes need not be 0 or 1 for that).
newton <- function(x, y) {
  s <- if (ncol(x)) apply(x, 2, spread) else numeric(); m <- colMeans(x); z <- cbind(1, sweep(sweep(x, 2, m), 2, s, "/"))
  penalty <- diag(c(0, rep(.5, ncol(x))), ncol(x) + 1); beta <- rep(0, ncol(x) + 1)
  repeat { p <- plogis(as.vector(z %*% beta)); step <- solve(t(z) %*% (z * p * (1 - p)) + penalty, t(z) %*% (y - p) - penalty %*% beta)
    beta <- beta + as.vector(step); if (max(abs(step)) < 1e-13) break }
  function(new) as.vector(cbind(1, sweep(sweep(new, 2, m), 2, s, "/")) %*% beta)
}
x <- unname(births[, c("lwt", "race2", "race3", "smoke")]); n <- nrow(x)
draw <- runif(n); noweight <- draw < .25; norace <- draw > .15 & draw < .40; nosmoke <- seq_len(n) %in% c(3, 50, 77)
x[noweight, 1] <- NA; x[norace, 2:3] <- NA; x[nosmoke, 4] <- NA
pattern <- apply(!is.na(x), 1, function(known) paste(as.integer(known), collapse = ""))
own <- ifelse(pattern %in% c("1111", names(which(table(pattern) >= 10))), pattern, "0000")
odds <- function(y) { all <- rep(NA_real_, n)
  for (each in unique(own)) { columns <- which(strsplit(each, "")[[1]] == "1"); known <- rowSums(is.na(x[, columns, drop = FALSE])) == 0
    all[own == each] <- newton(x[known, columns, drop = FALSE], y[known])(x[own == each, columns, drop = FALSE]) }
  all }
expected <- function(y) { all <- odds(y); shift <- uniroot(function(d) sum(plogis(all + d)) - sum(y), c(-3, 3), tol = 1e-15)$root
  for (i in 1:5) { p <- plogis(all + shift); shift <- shift + (sum(y) - sum(p)) / sum(p * (1 - p)) }
  list(p = plogis(all + shift), shift = shift) }
low <- b$low; e0 <- expected(low); later <- 1:70; h <- 1e-4
slope <- sapply(seq_len(n), function(i) { up <- low; up[i] <- up[i] + h; down <- low; down[i] <- down[i] - h
  (sum(expected(up)$p[later]) - sum(expected(down)$p[later])) / (2 * h) })
writeLines(toJSON(list(x = lapply(seq_len(n), function(i) I(x[i, ])), y = I(low), expected = I(e0$p), shift = e0$shift, later = length(later),
  variance = sum(e0$p * (1 - e0$p) * slope^2), patterns = as.list(table(pattern))), digits = NA, auto_unbox = TRUE, na = "null"),
  file.path(here, "patterns.json"))
# Observed over expected where what is expected is itself a count: R's exact test of two Poisson rates.
save_json(lapply(1:60, function(i) { k <- sample(0:40, 1); m <- sample(8:400, 1); e <- signif(runif(1, .5, 40), 5)
  list(observed = k, count = m, expected = e, interval = as.numeric(poisson.test(c(k, m), c(e, m))$conf.int)) }), "ratios_model.json")
