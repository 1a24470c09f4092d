package ruler

// Symbol is the QR symbol (ISO/IEC 18004) seen in a picture, such as a slate's.
type Symbol struct {
	Seen bool   // its finder patterns were found
	Text string // what it says; "" where it could not be read
}
