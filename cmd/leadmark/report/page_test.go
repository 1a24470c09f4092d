package report

import (
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/cmd/leadmark/report/testdata/bees"
	"leadmark/fit/design"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

var update = flag.Bool("update", false, "write the golden structure of the page anew")

// element is a piece of a parsed page.
type element struct {
	name     string
	attr     map[string]string
	text     string // of a piece of text, which is named #text
	children []*element
}

// parse reads the page as strict XML, which the template keeps to so that every element is known to
// be closed where it should be.
func parse(t *testing.T, page string) *element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	d.Entity = xml.HTMLEntity
	root := &element{}
	stack := []*element{root}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return root
		}
		if err != nil {
			t.Fatalf("the page is not well formed: %v", err)
		}
		top := stack[len(stack)-1]
		switch k := tok.(type) {
		case xml.StartElement:
			e := &element{name: k.Name.Local, attr: map[string]string{}}
			for _, a := range k.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			top.children = append(top.children, e)
			stack = append(stack, e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			top.children = append(top.children, &element{name: "#text", text: string(k)})
		}
	}
}

func (e *element) each(f func(*element)) {
	for _, c := range e.children {
		f(c)
		c.each(f)
	}
}

func (e *element) all(name string) []*element {
	var out []*element
	e.each(func(c *element) {
		if c.name == name {
			out = append(out, c)
		}
	})
	return out
}

// words is all text inside, spaces made one.
func (e *element) words() string {
	t := e.text
	e.each(func(c *element) { t += c.text })
	return strings.Join(strings.Fields(t), " ")
}

func pages(t *testing.T) map[string]*element {
	t.Helper()
	out := map[string]*element{}
	for name, r := range map[string]calib.Result{
		"bees": bees.Run(6, 0.15, 0.4, 0.9), "advance": bees.AdvanceOnly(8), "sweep": bees.Sweep(30), "evil": evilRun(),
	} {
		o := withPictures(r)
		_, page := written(t, name, r, o)
		out[name] = parse(t, page)
	}
	empty := bees.Run(2, 0.4)
	_, page := written(t, "nopictures", empty, options())
	out["nopictures"] = parse(t, page)
	return out
}

func TestPagesAreSound(t *testing.T) {
	for name, p := range pages(t) {
		t.Run(name, func(t *testing.T) {
			checkIDs(t, p)
			checkLoads(t, p)
			checkPicturesAndTables(t, p)
			checkHeadings(t, p)
		})
	}
}

// checkIDs holds ids to be unique and every link inside the page to have its goal.
func checkIDs(t *testing.T, p *element) {
	ids := map[string]bool{}
	p.each(func(e *element) {
		if id := e.attr["id"]; id != "" {
			if ids[id] {
				t.Errorf("id %q twice", id)
			}
			ids[id] = true
		}
	})
	p.each(func(e *element) {
		for _, key := range []string{"aria-labelledby", "for"} {
			if id := e.attr[key]; id != "" && !ids[id] {
				t.Errorf("%s of <%s> names no element: %q", key, e.name, id)
			}
		}
		if h := e.attr["href"]; strings.HasPrefix(h, "#") && !ids[h[1:]] {
			t.Errorf("link to nothing: %q", h)
		}
	})
}

// checkLoads holds the page to load nothing from elsewhere and to run no script.
func checkLoads(t *testing.T, p *element) {
	p.each(func(e *element) {
		if slices.Contains([]string{"script", "link", "iframe", "object", "embed", "base", "form"}, e.name) {
			t.Errorf("there is a <%s>", e.name)
		}
		for key, v := range e.attr {
			if strings.HasPrefix(strings.ToLower(key), "on") {
				t.Errorf("<%s> has a handler %s", e.name, key)
			}
			outside := strings.Contains(v, "//") || strings.Contains(strings.ToLower(v), "javascript:")
			if (key == "src" || key == "href" || key == "srcset" || key == "style") && outside &&
				!strings.HasPrefix(v, "data:image/jpeg;base64,") {
				t.Errorf("<%s %s> leads elsewhere: %.60q", e.name, key, v)
			}
			if strings.Contains(v, "ZgotmplZ") {
				t.Errorf("<%s %s> was refused by the template", e.name, key)
			}
		}
		if w := e.words(); e.name == "style" && (strings.Contains(w, "url(") || strings.Contains(w, "@import") ||
			w == "") {
			t.Error("the style sheet loads something")
		}
	})
}

func checkPicturesAndTables(t *testing.T, p *element) {
	for _, e := range p.all("img") {
		if e.attr["alt"] == "" || e.attr["width"] == "" {
			t.Errorf("a picture without alt text or size: %.80v", e.attr["alt"])
		}
	}
	for _, e := range p.all("svg") {
		if e.attr["aria-hidden"] != "true" && (e.attr["role"] != "img" || len(e.attr["aria-label"]) < 20) {
			t.Error("a figure without a description")
		}
		for _, x := range e.all("text") {
			if w := x.words(); regexp.MustCompile(`NaN|Inf`).MatchString(w) {
				t.Errorf("a figure says %q", w)
			}
		}
	}
	for _, e := range p.all("table") {
		if c := e.all("caption"); len(c) != 1 || c[0].words() == "" {
			t.Error("a table without a caption")
		}
		for _, h := range e.all("th") {
			if s := h.attr["scope"]; s != "col" && s != "row" {
				t.Errorf("head cell %q without scope", h.words())
			}
		}
		n := len(e.all("thead")[0].all("th"))
		for _, r := range e.all("tbody")[0].all("tr") {
			if len(r.all("th"))+len(r.all("td")) != n {
				t.Errorf("row of %d cells under %d heads: %s", len(r.children), n, r.words())
			}
		}
	}
}

// checkHeadings holds the headings to one h1 and no level left out.
func checkHeadings(t *testing.T, p *element) {
	level, ones := 0, 0
	p.each(func(e *element) {
		if len(e.name) == 2 && e.name[0] == 'h' && e.name[1] >= '1' && e.name[1] <= '6' {
			k := int(e.name[1] - '0')
			if k > level+1 {
				t.Errorf("heading %q leaves a level out", e.words())
			}
			if k == 1 {
				ones++
			}
			level = k
		}
	})
	if ones != 1 {
		t.Errorf("%d headings of the first level", ones)
	}
}

// evilRun carries markup wherever a file can put text.
func evilRun() calib.Result {
	const evil = `<img src=x onerror=alert(1)>`
	r := bees.Run(3, 0.4)
	r.Rig = evil + `"'`
	f := &r.Frames[1]
	f.Name = evil + ".jpg"
	f.Model, f.Conditions.Group = evil, evil
	f.Fit.Outlier, f.Fit.Why = true, note.New(evil)
	r.Frames[2].Status, r.Frames[2].Reason = ruler.StatusRefused,
		note.New("left-out", evil+"</p><script>alert(2)</script>")
	r.Frames[3].Status, r.Frames[3].Reason = ruler.StatusLeftOut, note.New(evil)
	r.Fit.Advance[0].Group = evil
	r.Warnings = append(r.Warnings, calib.Warning{Note: note.New(evil)},
		calib.Warning{Note: note.Of("by-hand-unused", "gone", "</style></svg>"+evil), Frames: []string{evil + ".svg"}})
	return r
}

func TestNamesAreTextNeverMarkup(t *testing.T) {
	r := evilRun()
	dir, page := written(t, "evil", r, withPictures(r))
	p := parse(t, page)
	for _, e := range p.all("img") {
		if e.attr["src"] == "x" {
			t.Error("a file's name became a picture")
		}
	}
	if strings.Contains(page, "<img src=x") || strings.Contains(page, "<script") {
		t.Error("markup came through")
	}
	if !strings.Contains(p.words(), `<img src=x onerror=alert(1)>.jpg`) {
		t.Error("the name is not shown as it is")
	}
	if _, err := os.Stat(filepath.Join(dir, "frames", "_img src=x onerror=alert(1)_.svg")); err != nil {
		t.Error(err)
	}
}

// outline is the page's structure and its words, without the pictures.
func outline(p *element) string {
	var b strings.Builder
	var walk func(e *element, depth int)
	walk = func(e *element, depth int) {
		switch e.name {
		case "svg", "style", "head":
			if e.name == "svg" && e.attr["role"] == "img" {
				fmt.Fprintf(&b, "%sfigure drawn %s: %d lines, %d marks\n", strings.Repeat(" ", depth),
					e.attr["class"], len(e.all("line")), len(e.all("circle"))+len(e.all("path"))+len(e.all("rect")))
			}
			return
		case "img":
			fmt.Fprintf(&b, "%simg %s\n", strings.Repeat(" ", depth), e.attr["alt"])
			return
		case "h1", "h2", "h3", "p", "dt", "dd", "li", "tr", "caption", "figcaption":
			if len(e.all("img"))+len(e.all("p")) == 0 {
				fmt.Fprintf(&b, "%s%s %s\n", strings.Repeat(" ", depth), e.name, e.words())
				return
			}
		}
		if id := e.attr["id"]; id != "" {
			fmt.Fprintf(&b, "%s%s #%s\n", strings.Repeat(" ", depth), e.name, id)
		}
		for _, c := range e.children {
			walk(c, depth+1)
		}
	}
	walk(p, 0)
	return b.String()
}

func TestStructureOfThePage(t *testing.T) {
	for name, p := range pages(t) {
		if name == "evil" {
			continue
		}
		path := filepath.Join("testdata", name+".outline.txt")
		got := outline(p)
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			if err := os.WriteFile(path+".new", []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			t.Errorf("the structure of %s changed; the new one is in %s.new", name, path)
		}
	}
}

func TestAbsentQuantitiesAreAbsentAndExplained(t *testing.T) {
	r := bees.AdvanceOnly(8)
	for _, l := range summary.Answer(r) {
		switch l.Key {
		case "lag", "spread", "next_shot", "trip_offset":
			if l.Known() || l.Note == "" {
				t.Errorf("%s: value %q, note %q; want none and a reason", l.Key, l.Value, l.Note)
			}
		}
	}
	_, page := written(t, "advance", r, options())
	p := parse(t, page)
	if len(p.all("figure")) != 3 {
		t.Errorf("%d figures, want 3: no lag to draw", len(p.all("figure")))
	}
	if w := p.words(); strings.Contains(w, "0 ms") && !strings.Contains(w, "no delay") {
		t.Error("a lag of zero is shown")
	}
}

func TestPlanTakesThePlaceOfTheAdvice(t *testing.T) {
	r := bees.Run(4, 0.4, 0.9)
	r.Run.Goal = runfile.Goal{U: 0.1e-3}
	r.Plan = &design.Schedule{Possible: true, Shots: 9,
		Stage: []design.Batch{{Drop: 0.9, Shots: 9}}}
	_, page := written(t, "plan", r, options())
	w := parse(t, page).words()
	for _, want := range []string{"of the lag of at most 0.1\u00a0ms",
		"Now: drop the ruler 9 times from 900\u00a0mm."} {
		if !strings.Contains(strings.ReplaceAll(w, "\u00a0", " "), strings.ReplaceAll(want, "\u00a0", " ")) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(w, "4 times from 900") {
		t.Error("the plan and the advice are both there")
	}
}
