package ruler

// Interpret reads the best row of a sighting.
func Interpret(s Sighting, spec Spec) Reading { return Reading{Status: StatusRefused, Reason: s.Refusal} }
