// Package plan says, before any animal is brought in, how to frame, focus and light it, from where
// it will be when the flash fires (reach):
//
//	subject.toml, flags --subject.Load--> subject.Subject (checked, SI units)
//	a rig's calibration in force --LagOf--> predict.Law, the law of the next trip's lag
//	Request{Subject, Lag, rig.Profile, Options} --Make--> Plan
//	Plan --NewDocument--> plan.json ("leadmark/plan/1")
//
// Nouns: the Framing is the picture's field, Focus the aperture and what it blurs, a Chance what
// one trip gives. Lengths are metres, times seconds, angles radians, light is counted in stops. The
// same request gives the same plan. Formulas name their source where they stand.
package plan
