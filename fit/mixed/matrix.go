package mixed

import "math"

// cross is X'Y for two sets of n rows of p whose product is symmetric.
func cross(x, y []float64, p int) []float64 {
	out := make([]float64, p*p)
	for i := 0; i+p <= len(x); i += p {
		yi := y[i : i+p]
		for j, xj := range x[i : i+p] {
			if xj == 0 {
				continue
			}
			row := out[j*p : (j+1)*p]
			for k := j; k < p; k++ {
				row[k] += xj * yi[k]
			}
		}
	}
	for j := 0; j < p; j++ {
		for k := 0; k < j; k++ {
			out[j*p+k] = out[k*p+j]
		}
	}
	return out
}

// invertSym inverts a small positive definite matrix by its Cholesky factor.
func invertSym(a []float64, p int) (inv []float64, logDet float64, ok bool) {
	l := append([]float64(nil), a...)
	for j := 0; j < p; j++ {
		for k := 0; k <= j; k++ {
			sum := l[j*p+k]
			for q := 0; q < k; q++ {
				sum -= l[j*p+q] * l[k*p+q]
			}
			if j > k {
				l[j*p+k] = sum / l[k*p+k]
				continue
			}
			if !(sum > 0) {
				return nil, 0, false
			}
			l[j*p+j] = math.Sqrt(sum)
			logDet += math.Log(sum)
		}
	}
	inv = make([]float64, p*p)
	col := make([]float64, p)
	for c := 0; c < p; c++ {
		for j := 0; j < p; j++ {
			col[j] = 0
			if j == c {
				col[j] = 1
			}
			for k := 0; k < j; k++ {
				col[j] -= l[j*p+k] * col[k]
			}
			col[j] /= l[j*p+j]
		}
		for j := p - 1; j >= 0; j-- {
			for k := j + 1; k < p; k++ {
				col[j] -= l[k*p+j] * col[k]
			}
			col[j] /= l[j*p+j]
		}
		for j := 0; j < p; j++ {
			inv[j*p+c] = col[j]
		}
	}
	return inv, logDet, true
}

func times(a, x []float64, p int) []float64 {
	out := make([]float64, p)
	for j := range out {
		for k := 0; k < p; k++ {
			out[j] += a[j*p+k] * x[k]
		}
	}
	return out
}

func product(a, b []float64, p int) []float64 {
	out := make([]float64, p*p)
	for j := 0; j < p; j++ {
		for k := 0; k < p; k++ {
			if v := a[j*p+k]; v != 0 {
				for q := 0; q < p; q++ {
					out[j*p+q] += v * b[k*p+q]
				}
			}
		}
	}
	return out
}

func trace(a []float64, p int) float64 {
	sum := 0.0
	for j := 0; j < p; j++ {
		sum += a[j*p+j]
	}
	return sum
}

// Quadratic is x'Cx.
func Quadratic(c, x []float64) float64 {
	p, sum := len(x), 0.0
	for j, xj := range x {
		for k, xk := range x {
			sum += xj * xk * c[j*p+k]
		}
	}
	return sum
}

func sq(x float64) float64 { return x * x }
