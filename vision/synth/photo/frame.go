package photo

import "leadmark/vision/synth/paint"

// frame gathers the parts of one picture.
type frame struct {
	*Set
	scene          *Scene
	flash, ambient float32      // exposure by each light
	subject, ghost *paint.Layer // the ruler in the flash's light, and in the other light
	shadow         *shadow
	twin           *exposure // by the second flash of a twin; nil for one flash
}

// exposure is what one of two flashes shows: the ruler where it then is, and its shadow.
type exposure struct {
	subject *paint.Layer
	shadow  *shadow
	share   float32 // of the light of both flashes
}
