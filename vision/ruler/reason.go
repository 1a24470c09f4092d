package ruler

// Status says what became of a picture.
type Status string

// Reason is why a picture was not read: a short stable code and a sentence for a person.
// The zero Reason means there is none.
type Reason struct{ Code, Text string }

// String joins code and sentence as results print them.
func (r Reason) String() string {
	if r.Code == "" {
		return ""
	}
	return r.Code + ": " + r.Text
}
