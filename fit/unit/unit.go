package unit

// Unit is what a number is shown in, by its symbol. Any other symbol may stand in a Quantity: its
// value is then shown as it is.
type Unit string

// The units that lengths, times and speeds are shown in.
const (
	Metre          Unit = "m"
	Millimetre     Unit = "mm"
	Micrometre     Unit = "µm"
	Second         Unit = "s"
	Millisecond    Unit = "ms"
	Microsecond    Unit = "µs"
	MetrePerSecond Unit = "m/s"
)

// Of returns si, a number in the SI base unit (m, s or m/s), in u; unchanged for a unit not listed here.
func (u Unit) Of(si float64) float64 {
	switch u {
	case Millimetre, Millisecond:
		return si * 1000
	case Micrometre, Microsecond:
		return si * 1e6
	}
	return si
}
