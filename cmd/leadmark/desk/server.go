package desk

import (
	"context"
	"image"
	"log"
	"time"

	"leadmark/calib/read"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/guard"
	"leadmark/cmd/leadmark/desk/live"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/planform"
	"leadmark/vision/frame"
)

// Options are what a Server is made of.
type Options struct {
	Folder string    // of runs, shoots and subjects, or one run or shoot
	Rigs   rig.Store // the rigs' profiles

	Look    read.LookFunc  // finds rulers in a picture
	Shift   read.ShiftFunc // says how far a scene moved; may be nil
	Picture func(ctx context.Context, f frame.Frame, maxSide int) (image.Image, error)
	Now     func() time.Time
	Program func() string // tells builds apart, for what is remembered of a run
	Log     *log.Logger   // told of faults in answering; nil is the log package's own
	Remote  bool          // other machines may ask too: every request must then carry the key
}

// Server shows the folders it was given.
type Server struct {
	o      Options
	places places.Places
	guard  *guard.Guard
	pages  pages
	runs   *live.Runs
	plans  *planform.Planner
	ctx    context.Context // ends with the server
}

// New makes a server. What is wrong with the folder is an *input.Error.
func New(o Options) (*Server, error) {
	p, err := places.Open(o.Folder)
	if err != nil {
		return nil, err
	}
	views, err := loadPages()
	if err != nil {
		return nil, err
	}
	return &Server{o: o, places: p, guard: guard.New(o.Remote), pages: views,
		runs:  &live.Runs{Rigs: o.Rigs, Places: p, Look: o.Look, Shift: o.Shift, Program: o.Program},
		plans: &planform.Planner{Rigs: o.Rigs, Now: o.Now, Places: p}}, nil
}

// Path is what to open in a browser below the address of the server: the run or shoot it was given,
// else the first page.
func (s *Server) Path() string {
	path := "/"
	if only := s.places.Only; only != "" {
		path = s.places.Link(only)
	}
	if s.o.Remote {
		path += "?key=" + s.guard.Key
	}
	return path
}

// run is the run of a name, followed from now on.
func (s *Server) run(name string) (*live.Run, error) { return s.runs.Open(s.ctx, name) }

// Bounds on what a request may take.
const (
	mostHeader = 16 << 10
	headerTime = 5 * time.Second
	bodyTime   = 20 * time.Second
	answerTime = 60 * time.Second
	idleTime   = 2 * time.Minute
	shutTime   = 300 * time.Millisecond
)
