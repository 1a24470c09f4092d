package main

import (
	"io"
	"os"
	"sync"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress shows how far a long piece of work is, on a terminal only.
type progress struct {
	w    io.Writer // nil: shows nothing
	what string
	mu   sync.Mutex
	bar  *progressbar.ProgressBar
}

// progress shows nothing where stderr is not a terminal. The bar's own control codes go round what
// makes those of names visible.
func (a *app) progress(what string) *progress {
	p := &progress{what: what}
	v, ok := a.stderr.(*escapingWriter)
	if !ok {
		return p
	}
	if f, ok := v.w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.w = f
	}
	return p
}

// step is called after each piece; it may be called from several goroutines.
func (p *progress) step(done, total int, _ string) {
	if p.w == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil {
		p.bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(p.w),
			progressbar.OptionSetDescription(escaped(p.what)),
			progressbar.OptionSetWidth(30), progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
	}
	if p.bar.GetMax() != total { // another round, as when some frames get a second look
		p.bar.ChangeMax(total)
	}
	_ = p.bar.Set(done)
}

// end takes the bar off the screen; it may be called again.
func (p *progress) end() {
	if p.bar != nil {
		_ = p.bar.Clear()
		p.bar = nil
	}
}
