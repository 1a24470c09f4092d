package desk

import (
	"bytes"
	"embed"
	"html/template"
	"net/http"
	"path"

	"leadmark/cmd/leadmark/report/style"
)

//go:embed page/*
var pageFiles embed.FS

// pages are the templates, one for each page, all within the same frame.
type pages struct {
	all     map[string]*template.Template
	figures []byte
}

// view is what a template fills in. Texts of files and pictures come as data and are escaped by the
// template.
type view struct {
	Title  string
	Here   string // which of the four parts of the desk
	Script string // the page's own module; "" for none
	Token  string
	Data   any
}

func loadPages() (pages, error) {
	p := pages{all: map[string]*template.Template{}}
	names, err := pageFiles.ReadDir("page")
	if err != nil {
		return p, err
	}
	for _, e := range names {
		if path.Ext(e.Name()) != ".html" || e.Name() == "base.html" {
			continue
		}
		t, err := template.New(e.Name()).ParseFS(pageFiles, "page/base.html", "page/"+e.Name())
		if err != nil {
			return p, err
		}
		p.all[e.Name()] = t
	}
	p.figures = style.Figures()
	return p, nil
}

// write answers with a page, whole or, when a template fails, not at all.
func (p pages) write(w http.ResponseWriter, code int, name string, v view) {
	var b bytes.Buffer
	if err := p.all[name].Execute(&b, v); err != nil {
		http.Error(w, "this page cannot be shown: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write(b.Bytes()) // the browser has gone: nobody is left to be told
}
