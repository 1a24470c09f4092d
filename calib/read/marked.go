package read

import (
	"context"
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// lookMarked looks again in frames in which a person marked the ruler: only along that line, and at
// no other ruler. It says which frames these are.
func lookMarked(ctx context.Context, v *viewer, list []int) (map[int]bool, error) {
	marked := map[int]bool{}
	for _, i := range list {
		line := v.run.Corrections.Of(v.shots[i].Name).Ruler
		if line == nil {
			continue
		}
		marked[i] = true
		within := math.Max(nearMarkPX, nearMark*line.B.Sub(line.A).Len())
		if err := v.look(ctx, []int{i}, ruler.Hint{Dir: line.Dir(), Near: line, Within: within,
			Body: within}); err != nil {
			return nil, err
		}
		seen := v.seen.Of(i)
		seen.Rows = nearestAlong(seen.Rows, *line)
		if len(seen.Rows) == 0 && seen.Refusal.Code == "" {
			seen.Refusal = note.Of("no-ruler", "marked")
		}
		v.seen.Put(i, seen)
	}
	return marked, nil
}

// nearestAlong keeps the row that lies nearest to a line drawn by hand, of those that run between
// its ends or across them.
func nearestAlong(rows []ruler.Row, line ruler.Line) []ruler.Row {
	var out []ruler.Row
	least := math.Inf(1)
	dir, length := line.Dir(), line.B.Sub(line.A).Len()
	for _, r := range rows {
		a, b := r.Mid(r.Marks[0].T), r.Mid(r.Marks[len(r.Marks)-1].T)
		from, to := dir.Dot(a.Sub(line.A)), dir.Dot(b.Sub(line.A))
		if away := math.Abs(line.Distance(a.Add(b).Mul(0.5))); max(from, to) > 0 && min(from, to) < length &&
			away < least {
			least, out = away, []ruler.Row{r}
		}
	}
	return out
}
