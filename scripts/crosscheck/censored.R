# Censored speeds by R's survival (Debian: r-cran-survival), for the figures in shoot/learn_test.go. Status 1 where they disagree.
library(survival)
x <- c(1.31, 0.92, 1.44, 1.05, 1.60, 1.22, 0.87, 1.75, 1.75, 1.75)
seen <- c(1, 1, 1, 1, 1, 1, 1, 0, 0, 0)
fit <- survreg(Surv(x, seen) ~ 1, dist = "gaussian")
got <- c(coef(fit)[[1]], fit$scale, fit$loglik[1], binom.test(682, 925, 0.75)$p.value, binom.test(27, 31, 0.95)$p.value)
want <- c(1.444868071503, 0.443153213519, -7.124555069796, 0.382491559575, 0.067124042586)
print(got, digits = 12)
quit(status = if (all(abs(got - want) < 1e-9)) 0 else 1)
