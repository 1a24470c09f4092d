package drawing

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
)

// SVG is the drawing as a file of its own: light on paper and on light screens, dark on dark ones.
func (d *Drawing) SVG(label string) ([]byte, error) {
	classes, err := svgStyle(d.Inks)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" `+
		`width="%[1]s" height="%[2]s" role="img">`+"\n", svg.PX(d.W), svg.PX(d.H))
	fmt.Fprintf(&b, "<title>%s</title>\n<metadata>leadmark drawn set</metadata>\n<style>%s</style>\n",
		html.EscapeString(label), classes)
	for _, it := range d.Items {
		if it.Text != "" {
			fmt.Fprintf(&b, `<text class="%s" x="%s" y="%s" text-anchor="%s">%s</text>`+"\n", it.Class,
				svg.PX(it.Points[0][0]), svg.PX(it.Points[0][1]), it.Anchor, html.EscapeString(phrase.Typeset(it.Text)))
			continue
		}
		xs, ys := make([]float64, len(it.Points)), make([]float64, len(it.Points))
		for i, p := range it.Points {
			xs[i], ys[i] = p[0], p[1]
		}
		fmt.Fprintf(&b, `<path class="%s" d="%s"/>`+"\n", it.Class, svg.Polyline(xs, ys))
	}
	b.WriteString("</svg>\n")
	return []byte(b.String()), nil
}

// svgStyle writes the classes. Each colour stands as itself too, for programs that know no
// variables.
func svgStyle(all map[string]Ink) (string, error) {
	light, err := style.Palette(false)
	if err != nil {
		return "", err
	}
	dark, err := style.Palette(true)
	if err != nil {
		return "", err
	}
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

func (k Ink) css(colours map[string]string) string {
	var b strings.Builder
	if k.Fill == "" {
		b.WriteString("fill:none;")
	} else {
		fmt.Fprintf(&b, "fill:%s;fill-opacity:%g;", colours[k.Fill], k.Opacity)
	}
	if k.Stroke != "" {
		fmt.Fprintf(&b, "stroke:%s;stroke-width:%g;stroke-linejoin:round;", colours[k.Stroke], k.Width)
	}
	if k.Dash {
		fmt.Fprintf(&b, "stroke-dasharray:%g %g;", 3*k.Width+2, 2*k.Width+2)
	}
	if k.Size > 0 {
		fmt.Fprintf(&b, "font:%gpx system-ui,-apple-system,'Segoe UI',Roboto,'Noto Sans',Arial,sans-serif;", k.Size)
	}
	return b.String()
}
