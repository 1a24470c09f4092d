package page

import (
	"embed"
	"html/template"
	"io"
	"strings"
	"time"

	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
)

//go:embed *.html
var templates embed.FS

// Sign tells a page of ours from anyone else's.
const Sign = `<meta name="generator" content="leadmark`

// Page is a page that is ready to be written: it loads nothing.
type Page struct {
	template string
	view     any
}

// Write fills the template in.
func (p Page) Write(w io.Writer) error {
	t, err := template.New(p.template).Funcs(template.FuncMap{"t": phrase.Typeset, "css": style.Page}).
		ParseFS(templates, p.template, "parts.html")
	if err != nil {
		return err
	}
	return t.Execute(w, p.view)
}

// Making is what a page says of how it was made.
type Making struct {
	Version  string    // of the program
	Made     time.Time // when; left out where zero
	Pictures bool      // of the frames stand beside it
}

func (m Making) generator() string { return strings.TrimSpace("leadmark " + m.Version) }

// time is when it was made; "" where that is not told.
func (m Making) time() string {
	if m.Made.IsZero() {
		return ""
	}
	return m.Made.Format("2 January 2006, 15:04 MST")
}
