# Fits the runs of a folder with R and compares with leadmark's estimates. What is fitted how:
#   pushes.*  exact readings: nlme::gls, variance proportional to the speed squared; and lm with weights
#   drops.*   exact readings: the same, the fall's curve linearised anew until it stands still
#   sweep.*   exact trip place: lm of advance on delay, lag = intercept / slope with the delta method
#   the rest  restricted likelihood with the covariance matrix of all shots written out, maximised by optimize
# Differences allowed: relative to the standard uncertainty 1e-5, of standard uncertainties and spreads 1e-5.
args <- commandArgs(trailingOnly = TRUE)
dir <- args[1]
suppressWarnings(have_nlme <- requireNamespace("nlme", quietly = TRUE))
cat(R.version.string, if (have_nlme) paste("nlme", packageVersion("nlme")) else "without nlme", "\n")
bad <- 0
compare <- function(run, how, what, ours, theirs, scale, allowed = 1e-5) {
  d <- abs(ours - theirs) / scale
  flag <- if (is.finite(d) && d <= allowed) "" else "   DISAGREES"
  if (flag != "") bad <<- bad + 1
  cat(sprintf("%-22s %-12s %-8s %.10g %.10g  %.1e%s\n", run, how, what, ours, theirs, d, flag))
}
estimates <- read.csv(file.path(dir, "estimates.csv"), stringsAsFactors = FALSE)
conditions <- read.csv(file.path(dir, "conditions.csv"), stringsAsFactors = FALSE)

# model at lag L, spread variance t: expected advance without offset, slope, derivatives by height and gravity
model <- function(s, g, L, t) {
  tau <- L + s$delay
  drop <- s$drop > 0
  v <- ifelse(drop, sqrt(2 * g * s$drop), s$speed)
  a <- ifelse(drop, g, 0)
  list(f = v * tau + a * (tau^2 + t) / 2, slope = v + a * tau,
       h = ifelse(drop, tau * g / v, 0), grav = ifelse(drop, tau * v / (2 * g) + tau^2 / 2, 0))
}

# covariance of the readings at spread variance t
covariance <- function(s, c, m, t) {
  V <- diag(s$advance_u^2 + (m$h * s$drop_shot_u)^2 + t * m$slope^2)
  for (h in unique(s$drop[s$drop > 0])) {
    z <- ifelse(s$drop == h, m$h * s$drop_u, 0)
    V <- V + tcrossprod(z)
  }
  V + tcrossprod(m$h * c$drop_common_u) + tcrossprod(m$grav * c$gravity_u)
}

# restricted likelihood written out, the model linearised at the last solution
reml <- function(s, c) {
  L <- 0.05; t <- 1e-6; b <- 0
  for (turn in 1:60) {
    m <- model(s, c$gravity, L, t)
    X <- cbind(m$slope, 1)
    y <- s$advance - m$f + m$slope * L
    at <- function(q) {
      V <- covariance(s, c, m, exp(q))
      C <- chol(V)
      Xw <- backsolve(C, X, transpose = TRUE); yw <- backsolve(C, y, transpose = TRUE)
      A <- crossprod(Xw); beta <- solve(A, crossprod(Xw, yw))
      list(beta = beta, cov = solve(A), value = sum(log(diag(C))) + 0.5 * determinant(A)$modulus + 0.5 * sum((yw - Xw %*% beta)^2))
    }
    q <- optimize(function(q) at(q)$value, log(t) + c(-6, 6) / min(turn, 12)^0.5, tol = 1e-12)$minimum
    p <- at(q)
    moved <- abs(p$beta[1] - L)
    L <- p$beta[1]; b <- p$beta[2]; t <- exp(q)
    if (moved < 1e-13 && turn > 12) break
  }
  list(lag = L, trip = b, u_lag = sqrt(p$cov[1, 1]), u_trip = sqrt(p$cov[2, 2]), spread = sqrt(t))
}

# variance = spread^2 slope^2: weighted least squares, linearised anew until it stands still
proportional <- function(s, c, package) {
  L <- 0.05; t <- 1e-6
  for (turn in 1:60) {
    m <- model(s, c$gravity, L, t)
    d <- data.frame(y = s$advance - m$f + m$slope * L, slope = m$slope, v = m$slope^2)
    if (package == "nlme gls") {
      fit <- nlme::gls(y ~ slope, d, weights = nlme::varFixed(~v), method = "REML")
      k <- summary(fit)$tTable; sigma <- fit$sigma
    } else {
      fit <- summary(lm(y ~ slope, d, weights = 1 / v)); k <- fit$coefficients; sigma <- fit$sigma
    }
    moved <- abs(k[2, 1] - L) + abs(sigma^2 - t); L <- k[2, 1]; t <- sigma^2
    if (moved < 1e-14) break
  }
  list(lag = L, trip = k[1, 1], u_lag = k[2, 2], u_trip = k[1, 2], spread = sigma)
}

sweep_fit <- function(s) {
  fit <- lm(advance ~ delay, s); k <- coef(fit); C <- vcov(fit)
  g <- c(1 / k[2], -k[1] / k[2]^2)
  list(lag = k[[1]] / k[[2]], u_lag = sqrt(drop(t(g) %*% C %*% g)), speed = k[[2]], u_speed = sqrt(C[2, 2]))
}

for (name in unique(estimates$run)) {
  s <- read.csv(file.path(dir, paste0(name, ".csv")))
  c <- conditions[conditions$run == name, ]
  e <- setNames(estimates$value[estimates$run == name], estimates$quantity[estimates$run == name])
  kind <- sub("\\..*", "", name)
  fits <- list()
  if (kind %in% c("pushes", "drops")) {
    fits[["lm"]] <- proportional(s, c, "lm")
    if (have_nlme) fits[["nlme gls"]] <- proportional(s, c, "nlme gls")
  } else if (kind == "sweep") fits[["lm"]] <- sweep_fit(s)
  else if (kind == "full") fits[["optimize"]] <- reml(s, c)
  for (how in names(fits)) for (what in names(fits[[how]])) {
    scale <- switch(what, lag = e[["u_lag"]], trip = e[["u_trip"]], speed = e[["u_speed"]], e[[what]])
    compare(name, how, what, e[[what]], fits[[how]][[what]], scale)
  }
}
cat(if (bad == 0) "R agrees\n" else sprintf("%d figures disagree with R\n", bad))
quit(status = if (bad == 0) 0 else 1)
