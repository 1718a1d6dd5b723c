# The monthly test, the planned comparison and the verdict again, in base R: a second implementation, written from the description of the
# method (docs/statistics/monthly-test.md has its formulas) and not from the program. Rscript tests/reference/verdict.R [FROM [TO]]
# FROM holds departments.csv (a row a month: department, measure, month from 0, eligible, unwelcome, history in months, and 1 where from
# that month on capture fell or a field of the case mix moved) and evaluations.csv (department, measure, change: its month, before and
# judged_after: months on each side of it, expected: the way of the unwelcome event). TO gets expected.csv (a row a department, at its last
# report) and reports.csv (a row a report). Months count from 0 at the first month of the history; a signal is month, way, what gave it,
# and the likeliest, first and last month of its start. It is plain and slow on purpose: every jump is kept apart to the end.
# The level: log odds on a grid, with the months' variation as an intraclass correlation.
grid <- -4.6 + 0.1 * (0:60)
rho <- c(0.00001, 0.01, 0.03, 0.08)
rho_prior <- c(0.35, 0.30, 0.20, 0.15)
one_in_fifty <- 0.02
odd_rho <- 0.3
least_jump <- 3
shrink <- 0.7
up_history <- 1 / 2
up_later <- 2 / 3

# Beta-binomial of x of n without the binomial coefficient: that is the same everywhere and goes out with the total.
beta_binomial <- function(x, n, theta, r) {
  s <- 1 / r - 1
  exp(lbeta(theta * s + x, (1 - theta) * s + n - x) - lbeta(theta * s, (1 - theta) * s))
}
month_chance <- function(x, n) {
  theta <- plogis(grid)
  if (n == 0) return(matrix(1, length(grid), length(rho)))
  odd <- beta_binomial(x, n, theta, odd_rho)
  sapply(rho, function(r) (1 - one_in_fifty) * beta_binomial(x, n, theta, r) + one_in_fifty * odd)
}

# A jump from level i (column) to level k (row), upwards; downwards is its mirror image. What would leave the grid is lost.
size <- length(grid)
up <- outer(1:size, 1:size, function(k, i) ifelse(k - i >= least_jump, (1 - shrink) * shrink^(k - i - least_jump), 0))
down <- t(up)

hazard <- function(month, history) if (month < history) 1 / 240 else if (month == history) 1 / 5 else 1 / 48
up_share <- function(month, history) if (month < history) up_history else up_later

upper_rate <- function(x, n) {
  p <- (x + 2.5) / (n + 21)
  min(0.5, p + 1.25 * sqrt(p * (1 - p) / (n + 21)))
}
# Both limits at the default budget: 10 % for six measures in 36 reports, for which they were fitted.
limit_worse <- function(x, n, history) {
  p <- upper_rate(x, n)
  mu <- n / history * p * (1 - p)
  min(3.25, 2.2 + 0.55 * log(max(0.2, mu)) - 0.15 * max(0, 1 - mu / 4) * max(0, 24 - history) / 12)
}
# The early test's own limit (docs/statistics/signals.md), lowered by 0.10 as the second of two.
limit_early <- function(x, n, history) {
  p <- upper_rate(x, n)
  mu <- max(0.2, n / history) * p * (1 - p)
  8.1 - (4.07 - 0.56 * log(history / 12)) / (1 + mu / 0.96) - 8 / (n + 20) - 0.10
}

# Forward over all months. jumps[[s]]: what jumped just before month s and has not jumped since, with its way. Every entry is kept as a
# part of the whole state, so that the sum of one is a chance.
walk <- function(x, n, history) {
  months <- length(x)
  theta <- plogis(grid)
  state <- outer(sqrt(theta * (1 - theta)), rho_prior)
  state <- state / sum(state)
  never <- state
  states <- vector("list", months)
  jumped <- list()
  chances <- vector("list", months)
  unchanged <- NA
  for (t in seq_len(months)) {
    month <- t - 1
    p <- month_chance(x[t], n[t])
    h <- if (month == 0) 0 else hazard(month, history)
    w <- up_share(month, history)
    new <- list(up = h * w * (up %*% state), down = h * (1 - w) * (down %*% state))
    whole <- ((1 - h) * state + new$up + new$down) * p
    z <- sum(whole)
    state <- whole / z
    step <- (1 - h) * p / z
    never <- never * step
    jumped <- lapply(jumped, function(way) lapply(way, function(part) part * step))
    jumped[[t]] <- lapply(new, function(part) part * p / z)
    states[[t]] <- state
    chances[[t]] <- list(p = p, h = h, w = w, z = z, up = sapply(jumped, function(way) sum(way$up)), down = sapply(jumped, function(way) sum(way$down)))
    if (t == history) unchanged <- sum(never)
  }
  list(states = states, chances = chances, unchanged = unchanged)
}

log_odds <- function(chance) log(chance) - log1p(-chance)

# Chances that the level at month t is above and below that at month s, both from 0.
than <- function(walked, t, s) {
  f <- walked$states[[s + 1]]
  pairs <- lapply(seq_along(rho), function(r) diag(f[, r]))
  for (month in seq_len(t - s) + s) {
    step <- walked$chances[[month + 1]]
    move <- (1 - step$h) * diag(size) + step$h * (step$w * up + (1 - step$w) * down)
    pairs <- lapply(seq_along(rho), function(r) (move %*% pairs[[r]]) * step$p[, r] / step$z)
  }
  all <- Reduce(`+`, pairs)
  c(worse = sum(all[row(all) > col(all)]), better = sum(all[row(all) < col(all)]))
}

level <- function(state, share) {
  weight <- rowSums(state)
  before <- cumsum(weight) - weight
  k <- which(before + weight >= share * sum(weight))[1]
  plogis(grid[k] - 0.05 + 0.1 * (share * sum(weight) - before[k]) / weight[k])
}

# The early test: a sum over months of change, with usual rate and variation averaged out.
early <- function(x, n, history) {
  past <- seq_len(history)
  total <- sum(n[past])
  p <- (sum(x[past]) + 0.5) / (total + 1)
  error <- min(0.8, sqrt((1 + 0.02 * total / history) / ((total + 1.5) * p * (1 - p))))
  centre <- qlogis(p) + error * seq(-3.2, 3.2, by = 0.8)
  cells <- expand.grid(logit = centre, r = seq_along(rho))
  theta <- plogis(cells$logit)
  log_chance <- function(x, n, theta) {
    s <- 1 / rho[cells$r] - 1
    lbeta(theta * s + x, (1 - theta) * s + n - x) - lbeta(theta * s, (1 - theta) * s)
  }
  weight <- 0.5 * log(theta) + 0.5 * log1p(-theta) + log(rho_prior[cells$r])
  ratio <- list(worse = rep(12, nrow(cells)), better = rep(12, nrow(cells)))
  shifted <- list(worse = plogis(cells$logit + log(1.8)), better = plogis(cells$logit - log(1.8)))
  result <- NULL
  for (t in seq_along(x)) {
    usual <- if (n[t] == 0) 0 else log_chance(x[t], n[t], theta)
    weight <- weight + usual
    if (t <= history) next
    for (way in names(ratio)) {
      changed <- if (n[t] == 0) 0 else log_chance(x[t], n[t], shifted[[way]])
      ratio[[way]] <- (ratio[[way]] + 1) * exp(changed - usual)
    }
    w <- exp(weight - max(weight))
    w <- w / sum(w)
    parts <- c(2 / 3 * sum(w * ratio$worse), 1 / 3 * sum(w * ratio$better))
    result <- rbind(result, data.frame(log_sum = log(sum(parts)), worse = parts[1] / sum(parts)))
  }
  result
}

# Likeliest month of a change and the shortest run of months with it that holds at least 80 %.
start_of <- function(chance, first) {
  share <- chance / sum(chance)
  k <- length(share)
  likeliest <- which.max(share)
  for (width in seq_len(k)) {
    starts <- seq(max(1, likeliest - width + 1), min(likeliest, k - width + 1))
    held <- sapply(starts, function(i) sum(share[i:(i + width - 1)]))
    if (max(held) >= 0.8) {
      i <- starts[which.max(held)]
      return(list(likeliest = first + likeliest - 1, from = first + i - 1, to = first + i + width - 2))
    }
  }
}

monthly_test <- function(x, n, history) {
  walked <- walk(x, n, history)
  past <- seq_len(history)
  limits <- list(worse = limit_worse(sum(x[past]), sum(n[past]), history), early = limit_early(sum(x[past]), sum(n[past]), history))
  limits$better <- limits$worse - 0.45
  s <- early(x, n, history)
  anchor <- history - 1
  signals <- list()
  reports <- NULL
  for (t in seq(history, length(x) - 1)) {
    report <- t - history + 1
    since <- seq(anchor + 1, t)
    up_parts <- walked$chances[[t + 1]]$up[since + 1]
    down_parts <- walked$chances[[t + 1]]$down[since + 1]
    worse <- sum(up_parts)
    better <- sum(down_parts)
    way <- NULL
    if (log_odds(worse) >= limits$worse) way <- c("worse", "filter")
    else if (log_odds(better) >= limits$better) way <- c("better", "filter")
    else if (length(signals) == 0 && walked$unchanged >= 0.85 && s$log_sum[report] >= limits$early) {
      if (s$worse[report] >= 0.5) { if (report <= 12) way <- c("worse", "early") }
      else if (report <= 18) way <- c("better", "early")
    }
    if (!is.null(way)) {
      signals[[length(signals) + 1]] <- c(list(month = t, way = way[1], by = way[2]),
                                          start_of(if (way[1] == "worse") up_parts else down_parts, anchor + 1))
      anchor <- t
    }
    state <- walked$states[[t + 1]]
    reports <- rbind(reports, data.frame(month = t, worse = log_odds(worse), better = log_odds(better), early = s$log_sum[report],
                                         median = level(state, 0.5), lower = level(state, 0.025), upper = level(state, 0.975)))
  }
  list(walked = walked, limits = limits, signals = signals, reports = reports)
}

# A declared change, judged once: Newcombe's interval with the months' variation in it.
wilson <- function(x, n, z) {
  middle <- (x + z^2 / 2) / (n + z^2)
  half <- z / (n + z^2) * sqrt(x * (n - x) / n + z^2 / 4)
  c(middle - half, middle + half)
}
planned <- function(xb, nb, xa, na) {
  if (sum(nb) == 0 || sum(na) == 0) return(NULL)
  part <- function(x, n) {
    p <- (sum(x) + 0.5) / (sum(n) + 1)
    used <- n > 0
    sum((x[used] - n[used] * p)^2 / (n[used] * p * (1 - p)))
  }
  df <- sum(nb > 0) + sum(na > 0) - 2
  if (df < 1) return(NULL)
  phi <- max(1, (part(xb, nb) + part(xa, na)) / df)
  t <- qt(0.975, df)
  before <- wilson(sum(xb) / phi, sum(nb) / phi, t)
  after <- wilson(sum(xa) / phi, sum(na) / phi, t)
  pb <- sum(xb) / sum(nb)
  pa <- sum(xa) / sum(na)
  d <- pa - pb
  list(difference = d, lower = d - sqrt((pa - after[1])^2 + (before[2] - pb)^2), upper = d + sqrt((after[2] - pa)^2 + (pb - before[1])^2),
       dispersion = phi)
}
planned_state <- function(xb, nb, xa, na) {
  if (sum(nb) < 40 || sum(na) < 40 || sum(xb) + sum(xa) == 0) return("too_few")
  found <- planned(xb, nb, xa, na)
  if (found$upper < 0) "improved" else if (found$lower > 0) "against" else "unclear"
}

# The chance, report by report, that the level is still beyond that of the month before the first one in which a signal's change may have
# started, for the 12 reports that begin with its own. (before = "likeliest": before the likeliest month; standing.R shows why not.)
reports_standing <- 12
still_beyond <- function(test, signal, months, before = "from") {
  t <- seq(signal$month, min(months - 1, signal$month + reports_standing - 1))
  data.frame(month = t, chance = sapply(t, function(t) than(test$walked, t, signal[[before]] - 1)[[signal$way]]))
}

# The decision table. A signal stands in these reports until the first one after its own in which that chance falls under 80 %. A judged
# change is fresh for the 12 reports that begin with the one it falls due in. A change for the worse is against, one for the better an
# improvement, whatever was expected.
label_at <- function(t, test, months, look) {
  history <- months$history[1]
  past <- months$month < history
  if (history < 12 || sum(months$eligible[past]) < 40) return("Too few to judge")
  signals <- Filter(function(signal) signal$month <= t, test$signals)
  way <- "none"
  if (length(signals) > 0) {
    last <- signals[[length(signals)]]
    beyond <- last$beyond[last$beyond$month <= t, ]
    if (t - last$month < reports_standing && all(beyond$chance[-1] >= 0.8)) way <- last$way
  }
  result <- if (is.null(look)) "none" else if (t < look$due) "waiting" else if (t - look$due < reports_standing) look$state else "none"
  fell <- months$capture_fell[t + 1] == 1
  moved <- months$field_moved[t + 1] == 1
  if (way == "worse") "Worse"
  else if (result == "against") "Worse after the change"
  else if (way == "better" && (fell || moved) || result == "improved" && fell) "Better? Check recording"
  else if (result == "improved") "Better after the change"
  else if (way == "better") "Better"
  else if (result == "unclear") "Not shown"
  else "No sign of change"
}

number <- function(x) if (is.null(x) || is.na(x)) "" else formatC(x, digits = 13, format = "g", width = 1)

write_all <- function(from, to) {
  departments <- read.csv(file.path(from, "departments.csv"))
  evaluations <- read.csv(file.path(from, "evaluations.csv"))
  expected <- NULL
  every <- NULL
  for (name in unique(paste(departments$department, departments$measure, sep = "/"))) {
    months <- departments[paste(departments$department, departments$measure, sep = "/") == name, ]
    stopifnot(months$month == seq_len(nrow(months)) - 1)
    history <- months$history[1]
    test <- monthly_test(months$unwelcome, months$eligible, history)
    test$signals <- lapply(test$signals, function(signal) c(signal, list(beyond = still_beyond(test, signal, nrow(months)))))
    declared <- evaluations[paste(evaluations$department, evaluations$measure, sep = "/") == name, ]
    look <- NULL
    if (nrow(declared) > 0) {
      change <- declared$change[1]
      b <- change - rev(seq_len(declared$before[1]))
      a <- change + seq_len(declared$judged_after[1])
      look <- list(due = max(a), state = "waiting", found = NULL)
      if (look$due < nrow(months)) {
        counts <- list(months$unwelcome[b + 1], months$eligible[b + 1], months$unwelcome[a + 1], months$eligible[a + 1])
        look$found <- do.call(planned, counts)
        look$state <- do.call(planned_state, counts)
      }
    }
    # Of the latest signal, in the reports in which it may stand.
    beyond <- data.frame(month = test$reports$month, chance = NA)
    for (signal in test$signals) {
      beyond$chance[beyond$month >= signal$month] <- NA
      beyond$chance[match(signal$beyond$month, beyond$month)] <- signal$beyond$chance
    }
    labels <- sapply(test$reports$month, label_at, test, months, look)
    every <- rbind(every, data.frame(
      department = months$department[1], measure = months$measure[1], month = test$reports$month,
      log_odds_worse = sapply(test$reports$worse, number), log_odds_better = sapply(test$reports$better, number),
      early = sapply(test$reports$early, number), median = sapply(test$reports$median, number),
      lower = sapply(test$reports$lower, number), upper = sapply(test$reports$upper, number),
      beyond = sapply(beyond$chance, number), label = labels))
    last <- test$reports[nrow(test$reports), ]
    expected <- rbind(expected, data.frame(
      department = months$department[1], measure = months$measure[1],
      limit_worse = number(test$limits$worse), limit_better = number(test$limits$better), limit_early = number(test$limits$early),
      history_unchanged = number(test$walked$unchanged),
      signals = paste(sapply(test$signals, function(s) paste(s$month, s$way, s$by, s$likeliest, s$from, s$to, sep = ":")), collapse = ";"),
      median = number(last$median), lower = number(last$lower), upper = number(last$upper),
      due = if (is.null(look)) "" else look$due, difference = number(look$found$difference), difference_lower = number(look$found$lower),
      difference_upper = number(look$found$upper), dispersion = number(look$found$dispersion), planned = if (is.null(look)) "none" else look$state,
      label = labels[length(labels)]))
  }
  write.csv(expected, file.path(to, "expected.csv"), row.names = FALSE, quote = FALSE)
  write.csv(every, file.path(to, "reports.csv"), row.names = FALSE, quote = FALSE)
}

# Not where another script reads these functions.
if (sys.nframe() == 0) {
  arguments <- commandArgs(trailingOnly = TRUE)
  from <- if (length(arguments) > 0) arguments[1] else "tests/reference/verdict"
  write_all(from, if (length(arguments) > 1) arguments[2] else from)
}
