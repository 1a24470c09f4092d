package report

import (
	"fmt"
	"html"
	"regexp"
	"slices"
	"strings"

	"leadmark/cmd/leadmark/report/phrase"
)

// colourRoots are the two blocks of the page's style sheet that hold the colours, light and dark.
var colourRoots = regexp.MustCompile(`(?s):root\{(.*?)\}`)

var colourPair = regexp.MustCompile(`--([a-z0-9-]+):#([0-9a-f]{6}|[0-9a-f]{3})\b`)

// palette reads the colours of the page's style sheet.
func palette(dark bool) (map[string]string, error) {
	css, err := pageFiles.ReadFile("page/style.css")
	if err != nil {
		return nil, err
	}
	roots := colourRoots.FindAllStringSubmatch(string(css), 2)
	if len(roots) < 2 {
		return nil, fmt.Errorf("the style sheet has no light and dark colours")
	}
	root := roots[0][1]
	if dark {
		root = roots[1][1]
	}
	colours := map[string]string{}
	for _, m := range colourPair.FindAllStringSubmatch(root, -1) {
		hex := m[2]
		if len(hex) == 3 {
			hex = strings.Repeat(hex[:1], 2) + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:], 2)
		}
		colours[m[1]] = "#" + hex
	}
	return colours, nil
}

// svgFile is the drawing as a file of its own: light on paper and on light screens, dark on dark ones.
func (d *drawing) svgFile(label string) ([]byte, error) {
	style, err := svgStyle()
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s" height="%s" role="img">`+"\n", px(d.w), px(d.h), px(d.w), px(d.h))
	fmt.Fprintf(&b, "<title>%s</title>\n<metadata>leadmark drawn set</metadata>\n<style>%s</style>\n",
		html.EscapeString(label), style)
	for _, it := range d.items {
		if it.text != "" {
			fmt.Fprintf(&b, `<text class="%s" x="%s" y="%s" text-anchor="%s">%s</text>`+"\n", it.class,
				px(it.points[0][0]), px(it.points[0][1]), it.anchor, html.EscapeString(phrase.Typeset(it.text)))
			continue
		}
		xs, ys := make([]float64, len(it.points)), make([]float64, len(it.points))
		for i, p := range it.points {
			xs[i], ys[i] = p[0], p[1]
		}
		fmt.Fprintf(&b, `<path class="%s" d="%s"/>`+"\n", it.class, polyline(xs, ys))
	}
	b.WriteString("</svg>\n")
	return []byte(b.String()), nil
}

// svgStyle writes the classes. Each colour stands as itself too, for programs that know no variables.
func svgStyle() (string, error) {
	light, err := palette(false)
	if err != nil {
		return "", err
	}
	dark, err := palette(true)
	if err != nil {
		return "", err
	}
	all := inks()
	names := make([]string, 0, len(all))
	for n := range all {
		names = append(names, n)
	}
	slices.Sort(names)
	var l, d strings.Builder
	for _, n := range names {
		fmt.Fprintf(&l, ".%s{%s}", n, all[n].css(light))
		fmt.Fprintf(&d, ".%s{%s}", n, all[n].css(dark))
	}
	return l.String() + "@media screen and (prefers-color-scheme:dark){" + d.String() + "}", nil
}

func (k ink) css(colours map[string]string) string {
	var b strings.Builder
	if k.fill == "" {
		b.WriteString("fill:none;")
	} else {
		fmt.Fprintf(&b, "fill:%s;fill-opacity:%g;", colours[k.fill], k.opacity)
	}
	if k.stroke != "" {
		fmt.Fprintf(&b, "stroke:%s;stroke-width:%g;stroke-linejoin:round;", colours[k.stroke], k.width)
	}
	if k.dash {
		fmt.Fprintf(&b, "stroke-dasharray:%g %g;", 3*k.width+2, 2*k.width+2)
	}
	if k.size > 0 {
		fmt.Fprintf(&b, "font:%gpx system-ui,-apple-system,'Segoe UI',Roboto,'Noto Sans',Arial,sans-serif;", k.size)
	}
	return b.String()
}
