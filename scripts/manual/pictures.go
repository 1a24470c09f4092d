package main

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	_ "image/png" // cut-outs are PNG files
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"golang.org/x/image/draw"

	"leadmark/cmd/leadmark/report/style"
)

// picture is one picture of the manual: its name, and how it is made in the folder in which its
// page was followed.
type picture struct {
	name string
	make func(dir string) ([]byte, error)
}

// picturesOf lists the pictures that come from following a page.
func picturesOf(path string) []picture {
	if filepath.Base(path) != "first-evening.md" {
		return nil
	}
	return []picture{
		{"ruler.jpg", reduced("night1/IMG_0016.JPG")},
		{"marks.svg", copied("night1-report/frames/IMG_0016.svg")},
		{"lag.svg", figure("From", "The lag drawn to scale")},
		{"advance.svg", figure("Advance", "Advance against speed")},
		{"residuals.svg", figure("What", "What is left after the fit")},
		{"strips.svg", figure("Every", "Every frame on one scale")},
		{"set.svg", copied("set.svg")},
		{"bee.jpg", reduced("bees1/IMG_0003.JPG")},
		{"keeper.png", copied("cut/IMG_0003-cutout.png")},
	}
}

func copied(name string) func(dir string) ([]byte, error) {
	return func(dir string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }
}

// width of the photographs in the manual, px.
const width = 900

// reduced makes a photograph smaller.
func reduced(name string) func(dir string) ([]byte, error) {
	return func(dir string) ([]byte, error) {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, err
		}
		full, _, err := image.Decode(bytes.NewReader(data))
		if err != nil {
			return nil, err
		}
		size := full.Bounds().Size()
		small := image.NewRGBA(image.Rect(0, 0, width, width*size.Y/size.X))
		draw.CatmullRom.Scale(small, small.Bounds(), full, full.Bounds(), draw.Src, nil)
		var b bytes.Buffer
		err = jpeg.Encode(&b, small, &jpeg.Options{Quality: 75})
		return b.Bytes(), err
	}
}

// figure takes a figure, the wide one, out of the report, with the looks it has there. The first
// word tells errors apart.
func figure(word, label string) func(dir string) ([]byte, error) {
	return func(dir string) ([]byte, error) {
		page, err := os.ReadFile(filepath.Join(dir, "night1-report", "report.html"))
		if err != nil {
			return nil, err
		}
		looks, err := looks(string(page))
		if err != nil {
			return nil, err
		}
		found := regexp.MustCompile(`(?s)<svg class="fig wide" viewBox="([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+)"([^>]*aria-label="` + label + `[^>]*)>(.*?)</svg>`).FindStringSubmatch(string(page))
		if found == nil {
			return nil, fmt.Errorf("the report has no figure %q", word)
		}
		return fmt.Appendf(nil, "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"fig\" viewBox=\"-10 -10 "+
			"%s %s\" width=\"%s\"%s><style>%s</style><rect class=\"sheet\" x=\"-10\" y=\"-10\" "+
			"width=\"100%%\" height=\"100%%\"/>%s</svg>\n",
			grown(found[3]), grown(found[4]), found[3], found[5], looks, found[6]), nil
	}
}

// grown is a length of the figure with a margin of 10 on both sides.
func grown(length string) string {
	var v float64
	fmt.Sscan(length, &v) // the expression lets only numbers through
	return fmt.Sprintf("%g", v+20)
}

// looks are the report's style of figures, without the rules that choose among widths. Its named
// colours are put in, first those of a bright page and then those of a dark one: not all programs
// that show SVG know names.
func looks(page string) (string, error) {
	rules := "\n"
	for line := range strings.Lines(string(style.Figures())) {
		if !strings.HasPrefix(line, ".fig{") && !strings.HasPrefix(line, ".fig.") &&
			!strings.HasPrefix(line, "@media") {
			rules += line
		}
	}
	rules += "text{font-family:system-ui,sans-serif}.sheet{fill:var(--paper)}\n"
	named := regexp.MustCompile(`(?s):root\{([^}]*)\}`).FindAllStringSubmatch(page, 2)
	if len(named) != 2 {
		return "", fmt.Errorf("the report's style does not begin with its colours, bright and dark")
	}
	return coloured(rules, named[0][1]) + "@media (prefers-color-scheme:dark){" + coloured(rules, named[1][1]) +
		"}", nil
}

// coloured puts the colours of a list such as "--ink:#14211f;" in the place of their names.
func coloured(rules, colours string) string {
	for _, m := range regexp.MustCompile(`(--[\w-]+):\s*(#\w+)`).FindAllStringSubmatch(colours, -1) {
		rules = strings.ReplaceAll(rules, "var("+m[1]+")", m[2])
	}
	return rules
}
