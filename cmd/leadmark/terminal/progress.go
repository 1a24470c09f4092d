package terminal

import (
	"io"
	"os"
	"sync"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// Progress shows how far a long piece of work is, on a terminal only.
type Progress struct {
	w    io.Writer // nil: shows nothing
	what string
	mu   sync.Mutex
	bar  *progressbar.ProgressBar
}

// NewProgress shows nothing where stderr is not a terminal. The bar's own control codes go round
// what makes those of names visible.
func NewProgress(stderr io.Writer, what string) *Progress {
	p := &Progress{what: what}
	v, ok := stderr.(*Writer)
	if !ok {
		return p
	}
	if f, ok := v.w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.w = f
	}
	return p
}

// Step is called after each piece; it may be called from several goroutines.
func (p *Progress) Step(done, total int, _ string) {
	if p.w == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil {
		p.bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(p.w),
			progressbar.OptionSetDescription(Escaped(p.what)),
			progressbar.OptionSetWidth(30), progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
	}
	if p.bar.GetMax() != total { // another round, as when some frames get a second look
		p.bar.ChangeMax(total)
	}
	_ = p.bar.Set(done)
}

// End takes the bar off the screen; it may be called again.
func (p *Progress) End() {
	if p.bar != nil {
		_ = p.bar.Clear()
		p.bar = nil
	}
}
