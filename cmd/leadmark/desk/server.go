package desk

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"image"
	"log"
	"net"
	"net/http"
	"time"

	"leadmark/calib/read"
	"leadmark/calib/rig"
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
	Program string      // tells builds apart, for what is remembered of a run
	Log     *log.Logger // told of faults in answering; nil is the log package's own
	Remote  bool        // other machines may ask too: every request must then carry the key
}

// Server shows the folders it was given.
type Server struct {
	o        Options
	places   places
	token    string // every request that changes something carries it
	key      string // every request carries it where Remote
	hosts    []string
	pages    pages
	sessions sessions
	plans    plans
	ctx      context.Context // ends with the server
}

// New makes a server. What is wrong with the folder is an *input.Error.
func New(o Options) (*Server, error) {
	p, err := openPlaces(o.Folder)
	if err != nil {
		return nil, err
	}
	views, err := loadPages()
	if err != nil {
		return nil, err
	}
	s := &Server{o: o, places: p, token: secret(), key: secret(), pages: views}
	s.sessions.all = map[string]*session{}
	return s, nil
}

// secret is a random word of 160 bits that nobody guesses.
func secret() string {
	var b [20]byte
	_, _ = rand.Read(b[:]) // never fails (crypto/rand)
	return hex.EncodeToString(b[:])
}

// Path is what to open in a browser below the address of the server: the run or shoot it was given,
// else the first page.
func (s *Server) Path() string {
	path := "/"
	if only := s.places.only; only != "" {
		path = s.places.link(only)
	}
	if s.o.Remote {
		path += "?key=" + s.key
	}
	return path
}

// Bounds on what a request may take.
const (
	mostHeader  = 16 << 10
	mostBody    = 64 << 10
	headerTime  = 5 * time.Second
	bodyTime    = 20 * time.Second
	answerTime  = 60 * time.Second
	idleTime    = 2 * time.Minute
	shutTime    = 300 * time.Millisecond
	mostStreams = 64
)

// Serve answers on a listener until ctx ends; then runs that are followed are left in order.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s.ctx = ctx
	s.hosts = hostsOf(l.Addr(), s.o.Remote)
	server := &http.Server{
		Handler: s.guard(s.routes()), ReadHeaderTimeout: headerTime, ReadTimeout: bodyTime, IdleTimeout: idleTime,
		MaxHeaderBytes: mostHeader,
		ErrorLog:       s.o.Log, BaseContext: func(net.Listener) context.Context { return ctx },
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(l) }()
	var err error
	select {
	case err = <-failed:
	case <-ctx.Done():
		end, stop := context.WithTimeout(context.Background(), shutTime)
		if server.Shutdown(end) != nil {
			_ = server.Close()
		}
		stop()
	}
	cancel()
	s.sessions.wait()
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	return err
}

// routes are all that can be asked for.
func (s *Server) routes() http.Handler {
	m := http.NewServeMux()
	page := func(pattern string, do func(w http.ResponseWriter, r *http.Request) error) {
		m.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			if err := do(w, r); err != nil {
				s.refuse(w, r, err)
			}
		})
	}
	page("GET /{$}", s.homePage)
	page("GET /look/{file}", s.lookFile)
	page("GET /run/{run}", s.runPage)
	page("GET /run/{run}/frame/{file}", s.framePage)
	page("GET /run/{run}/state", s.runState)
	page("GET /run/{run}/events", s.runEvents)
	page("GET /run/{run}/figures", s.runFigures)
	page("GET /run/{run}/clip/{file}", s.clip)
	page("GET /run/{run}/picture/{file}", s.picture)
	page("GET /run/{run}/marks/{file}", s.marks)
	page("POST /run/{run}/correct", s.correct)
	page("POST /run/{run}/undo", s.undo)
	page("POST /run/{run}/accept", s.accept)
	page("POST /run/{run}/setting", s.setting)
	page("GET /start", s.startPage)
	page("POST /start", s.start)
	page("GET /rigs", s.rigsPage)
	page("POST /rigs", s.newRig)
	page("GET /rig/{rig}", s.rigPage)
	page("GET /rig/{rig}/compare", s.compareRig)
	page("POST /rig/{rig}/restore", s.restoreRig)
	page("GET /plan", s.planPage)
	page("GET /plan/answer", s.planAnswer)
	page("GET /plan/set.svg", s.planSet)
	page("GET /plan/preset/{name}", s.planPreset)
	page("POST /plan/save", s.saveSubject)
	page("GET /shoots", s.shootsPage)
	page("GET /shoot/{shoot}", s.shootPage)
	page("GET /shoot/{shoot}/state", s.shootState)
	page("GET /shoot/{shoot}/picture/{file}", s.shootPicture)
	return m
}
