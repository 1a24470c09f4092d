package reading

import "leadmark/vision/ruler"

// Interpret reads the best row of a sighting. A picture that cannot be read gives a Reading
// of status refused with its reason; it never fails otherwise.
func Interpret(s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	if len(s.Rows) == 0 {
		return refuse(s.Refusal)
	}
	if spec.Twin {
		return interpretDouble(s, spec)
	}
	return interpretSingle(s, spec)
}
