package shoot

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/calib/provenance"
	"leadmark/calib/words"
	"leadmark/fit/note"
	"leadmark/fit/parallel"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
)

// LookFunc finds the animals in one picture: length is about a body's in pixels, travel the unit
// vector of its way.
type LookFunc func(ctx context.Context, f frame.Frame, length float64,
	travel [2]float64) (animal.Sighting, error)

// Options are what a check is given besides the shoot.
type Options struct {
	Look LookFunc
	Plan plan.Plan // of the shoot's rig and subject
	// when the calibration in force was accepted; zero where the lag is assumed
	Calibrated time.Time
	Settings   map[string]string // what the command line said, by flag; for the document alone
	Progress   func(done, total int, name string)
}

// Result is what a shoot came to.
type Result struct {
	Setup      Setup
	Settings   map[string]string
	Plan       plan.Plan
	Frames     []FrameResult
	Agreement  *Agreement // nil where no animal was found
	Learned    *Learned   // nil where nothing could be learned; NotLearned says why
	NotLearned string
	Warnings   []note.Note
	Advice     []note.Note
}

// Made is what the result was made by and from.
func (r Result) Made() provenance.Made {
	parts := [][]byte{[]byte(r.Setup.Digest), []byte(r.Plan.Request.Digest())}
	for _, f := range r.Frames {
		parts = append(parts, []byte(f.Name), []byte(f.Frame.Digest))
	}
	return provenance.Of(input.Digest(parts...), r.Settings)
}

// Agreement is the share of animals seen inside the reach against the plan's.
type Agreement struct {
	Expected   float64 // as far as a picture shows it
	Inside, N  int
	Gone       int        // of N, animals that had left the picture
	Interval95 [2]float64 // exact, of the share
	P          float64    // exact binomial test, two-sided
}

// Check looks at all frames of a shoot and judges them. It returns an *input.NoResult where no
// frame could be looked at.
func Check(ctx context.Context, s Setup, frames []frame.Frame, refused []frame.Refusal,
	o Options) (Result, error) {
	frames, refused = s.sameSize(frames, refused)
	r := Result{Setup: s, Settings: o.Settings, Plan: o.Plan, Frames: make([]FrameResult, len(frames))}
	if err := r.lookAll(ctx, frames, o); err != nil {
		return r, err
	}
	looked := 0
	for _, f := range r.Frames {
		if f.Status != Refused {
			looked++
		}
	}
	for _, b := range refused {
		r.Frames = append(r.Frames, FrameResult{Name: b.Name, Status: Refused,
			Reason: b.Note})
	}
	if looked == 0 {
		return r, &input.NoResult{What: fmt.Sprintf("none of the %d frames could be looked at",
			len(r.Frames)), Hint: whyRefused(r.Frames)}
	}
	subject, heading := r.Plan.Request.Subject, r.heading()
	if heading != nil { // the speed is learned with the headings as they are
		subject = heading.Of(subject)
	}
	leads, gone := r.leads(subject)
	r.agree(gone)
	r.learn(leads, subject)
	if r.Learned != nil {
		r.Learned.Heading = heading
	}
	r.doubts()
	r.ageDoubt(o.Calibrated)
	return r, nil
}

// sameSize refuses the frames whose pictures are of another size than those that the scale was read
// in: scale and trip line are in pixels, so every figure would be wrong.
func (s Setup) sameSize(frames []frame.Frame, refused []frame.Refusal) ([]frame.Frame,
	[]frame.Refusal) {
	if s.Size == [2]int{} {
		return frames, refused
	}
	var same []frame.Frame
	refused = slices.Clone(refused)
	for _, f := range frames {
		if s.Size == [2]int{f.Width, f.Height} {
			same = append(same, f)
			continue
		}
		refused = append(refused, frame.Refusal{Name: f.Name,
			Note: note.Of("other-size", "scale", f.Width, f.Height, s.Size[0], s.Size[1])})
	}
	return same, refused
}

func whyRefused(all []FrameResult) string {
	for _, f := range all {
		if !f.Reason.None() {
			return f.Name + ": " + words.Sentence(f.Reason)
		}
	}
	return "copy the frames (JPEG, PNG or TIFF) into the shoot's folder"
}

// lookAll looks at the frames, several at a time; each result has its own place, so the order does
// not matter.
func (r *Result) lookAll(ctx context.Context, frames []frame.Frame, o Options) error {
	var mu sync.Mutex
	done := 0
	return parallel.Try(ctx, len(frames), 0, func(ctx context.Context, i int) error {
		seen, err := o.Look(ctx, frames[i], o.Plan.Request.Subject.Length*r.Setup.Scale, r.Setup.Travel)
		if err != nil {
			return err
		}
		r.Frames[i] = r.Setup.judge(frames[i], seen, o.Plan.Reach)
		mu.Lock()
		defer mu.Unlock()
		if done++; o.Progress != nil {
			o.Progress(done, len(frames), frames[i].Name)
		}
		return nil
	})
}

// rareGone is the chance of having left the field below which an empty frame is taken for a false
// trip.
const rareGone = 0.005

// leads gathers the leads, and how many animals had left the field. An empty frame is an animal
// that had, unless the leads seen say that this is as good as impossible: then it was a false trip,
// and a warning says so.
func (r *Result) leads(s subject.Subject) (l Leads, gone int) {
	var bare []string
	for _, f := range r.Frames {
		switch {
		case f.Status == Empty:
			bare = append(bare, f.Name)
			l.Field = r.field(f)
		case f.Status != Found || f.Animals > 1:
		case f.AtLeast:
			l.Beyond = append(l.Beyond, f.Lead)
		default:
			l.Seen = append(l.Seen, f.Lead)
		}
	}
	empty := len(bare)
	if empty == 0 {
		return l, 0
	}
	req := r.Plan.Request
	if first, err := Learn(l, s, req.Lag, r.Plan.Delay); err == nil {
		if faster(l.Field.goneSpeeds(s, req.Lag, r.Plan.Delay), first.Speed95[1],
			first.SpeedSD) < rareGone {
			r.warn(r.bareNote("false-trips", bare))
			return l, 0
		}
	}
	r.warn(r.bareNote("gone", bare))
	l.Gone = empty
	return l, empty
}

// bareNote counts the frames without an animal and names some; one of them may be no shot of an
// animal at all where no frame of the empty set is stated.
func (r *Result) bareNote(code string, names []string) note.Note {
	which := ""
	if r.Setup.Empty == "" {
		which = "no-empty"
	}
	const most = 3
	return note.Of(code, which, len(names), names[:min(most, len(names))])
}

// field is what a frame's picture holds.
func (r *Result) field(f FrameResult) Field {
	o := Field{End: r.Setup.FieldEnd(f.Frame.Width, f.Frame.Height), Top: math.Inf(1),
		Bottom: math.Inf(-1), Body: r.Plan.Request.Subject.Length}
	if r.Setup.Heights() {
		o.Top, o.Bottom = (r.Setup.Exit[1]+0.5)/r.Setup.Scale,
			(r.Setup.Exit[1]+0.5-float64(f.Frame.Height))/r.Setup.Scale
	}
	return o
}

// heading learns the headings; nil where that cannot be. Animals that are out in front say nothing
// of it.
func (r *Result) heading() *Heading {
	var rays []Ray
	var field Field
	for _, f := range r.Frames {
		if f.Status != Found || f.Animals > 1 || f.Height == nil || f.Lead <= 0 || f.AtLeast &&
			f.Out == 0 {
			continue
		}
		rays, field = append(rays, Ray{f.Lead, *f.Height, f.Out}), r.field(f)
	}
	h, err := LearnHeading(rays, field, r.Plan.Request.Subject)
	if err != nil {
		return nil
	}
	return &h
}

func (r *Result) warn(doubt note.Note) { r.Warnings = append(r.Warnings, doubt) }

func (r *Result) advise(what note.Note) { r.Advice = append(r.Advice, what) }

// agree tests the share inside the reach against the plan's.
func (r *Result) agree(gone int) {
	a := Agreement{N: gone, Gone: gone}
	for _, f := range r.Frames {
		if f.Status == Found {
			a.N++
			if f.InReach {
				a.Inside++
			}
		}
	}
	if a.N == 0 {
		return
	}
	seen := plan.SeenInside(r.Plan)
	a.Expected = seen.Along
	if r.Setup.Heights() {
		a.Expected = seen.AlongUp
	}
	a.P, a.Interval95 = BinomialP(a.Inside, a.N, a.Expected), BinomialInterval(a.Inside, a.N)
	r.Agreement = &a
}

func (r *Result) learn(l Leads, s subject.Subject) {
	got, err := Learn(l, s, r.Plan.Request.Lag, r.Plan.Delay)
	if err != nil {
		r.NotLearned = err.Error()
		return
	}
	r.Learned = &got
}
