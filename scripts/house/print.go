package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
)

// table prints a line a package, and the summary.
func table(out io.Writer, rooms []room, all bool) {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "package\tfiles\tlines\tlongest file\tlargest circle\texported")
	var sum room
	files, inCircles := 0, 0
	for _, r := range rooms {
		largest := 0
		if len(r.circles) > 0 {
			largest = len(r.circles[0])
		}
		fmt.Fprintf(w, "%s\t%d\t%d\t%d %s\t%d\t%d\n",
			r.path, len(r.files), r.lines, r.longest.n, r.longest.where, largest, r.exported)
		for _, c := range r.circles {
			inCircles += len(c)
		}
		files += len(r.files)
		sum.add(r)
	}
	w.Flush()
	fmt.Fprintf(out, "\n%d packages, %d files, %d lines of Go, %d of C, HTML, CSS and JavaScript\n",
		len(rooms), files, sum.lines, sum.other)
	share := 100 * float64(inCircles) / float64(max(1, files))
	fmt.Fprintf(out, "files in circles  %d of %d, %.0f %%\n", inCircles, files, share)
	fmt.Fprintf(out, "widest line       %d columns, %s\n", sum.widest.n, sum.widest.where)
	fmt.Fprintf(out, "longest function  %d lines, %s\n", sum.function.n, sum.function.where)
	if all {
		printCircles(out, rooms)
	}
}

// add takes what one package has into the sum.
func (r *room) add(one room) {
	r.lines += one.lines
	r.other += one.other
	r.widest.raise(one.widest.n, one.path+"/"+one.widest.where)
	r.function.raise(one.function.n, one.path+"/"+one.function.where)
}

func printCircles(out io.Writer, rooms []room) {
	for _, r := range rooms {
		for _, c := range r.circles {
			fmt.Fprintf(out, "\n%s, %d files: %s\n", r.path, len(c), strings.Join(c, " "))
		}
	}
}
