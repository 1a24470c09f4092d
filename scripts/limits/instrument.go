package main

import (
	"bytes"
	"cmp"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"os"
	"slices"
	"strconv"
	"strings"
)

// site is a place where a number is held against a value: a comparison, or a call of min or max.
type site struct {
	At   string // file:line
	In   string
	Text string
	Of   []int // which numbers
	Safe bool  // it keeps input safe: never taken out
	Loop bool  // it ends a loop: never forced
}

// edit puts text in the place of a stretch of a file. Edits of one place stand as they are nested.
type edit struct {
	from, to int
	text     string
	rank     int // at one place: closings first, inner ones before outer ones; then openings, outer first
}

// instrumented is a tree whose numbers can be varied and whose comparisons are logged.
type instrumented struct {
	numbers []*number
	sites   []site
	edits   map[string][]edit
}

// logger is the package that the copy of the tree gets, by which comparisons and numbers are passed.
const logger = "limitlog"

// instrument works out what is to be changed in the files of rooms.
func instrument(rooms []*room) *instrumented {
	t := &instrumented{edits: map[string][]edit{}}
	for _, r := range rooms {
		c := collector{tree: t, room: r, literals: map[*ast.BasicLit]int{}, names: map[types.Object]int{}}
		for _, n := range r.numbers() {
			if n.exact != "" {
				continue
			}
			if n.at != nil {
				c.literals[n.at] = len(t.numbers)
			} else {
				c.names[n.object] = len(t.numbers)
			}
			t.numbers = append(t.numbers, n)
		}
		for _, f := range r.files {
			c.file = f
			for _, d := range f.Decls {
				if fun, is := d.(*ast.FuncDecl); is && fun.Body != nil {
					c.in = declName(d)
					c.visit(fun.Body, false)
				}
			}
		}
	}
	return t
}

// collector goes through the functions of a room.
type collector struct {
	tree     *instrumented
	room     *room
	file     *ast.File
	in       string
	loop     bool // in the condition of a loop
	literals map[*ast.BasicLit]int
	names    map[types.Object]int
}

// visit notes the edits of a node; fixed: only constants may stand there.
func (c *collector) visit(n ast.Node, fixed bool) {
	if e, is := n.(ast.Expr); is && c.room.info.Types[e].Value != nil {
		if !fixed {
			c.vary(e)
		}
		return
	}
	switch x := n.(type) {
	case *ast.GenDecl:
		if x.Tok == token.CONST {
			return
		}
	case *ast.ArrayType:
		if x.Len != nil {
			c.visit(x.Elt, fixed)
			return
		}
	case *ast.KeyValueExpr:
		c.visit(x.Value, fixed)
		return
	case *ast.BinaryExpr:
		if slices.Contains(bits(), x.Op) {
			fixed = true
		}
		if compares(x.Op) {
			c.comparison(x)
		}
	case *ast.CallExpr:
		if c.room.least(x) {
			c.extreme(x)
		}
	case *ast.SelectorExpr:
		c.visit(x.X, fixed)
		return
	case *ast.ForStmt:
		c.stmt(x.Init, fixed)
		if x.Cond != nil {
			c.loop = true
			c.visit(x.Cond, fixed)
			c.loop = false
		}
		c.stmt(x.Post, fixed)
		c.visit(x.Body, fixed)
		return
	}
	for _, child := range children(n) {
		c.visit(child, fixed)
	}
}

func (c *collector) stmt(s ast.Stmt, fixed bool) {
	if s != nil {
		c.visit(s, fixed)
	}
}

// children are the nodes right below one.
func children(n ast.Node) (list []ast.Node) {
	ast.Inspect(n, func(m ast.Node) bool {
		if m != nil && m != n {
			list = append(list, m)
		}
		return m == n
	})
	return list
}

// of are the numbers that an expression is made of.
func (c *collector) of(e ast.Expr) (list []int) {
	ast.Inspect(e, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.BasicLit:
			if k, is := c.literals[x]; is {
				list = append(list, k)
			}
		case *ast.Ident:
			if k, is := c.names[c.room.info.Uses[x]]; is {
				list = append(list, k)
			}
		}
		return true
	})
	return list
}

func (c *collector) offset(p token.Pos) int { return c.room.set.Position(p).Offset }

func (c *collector) edit(from, to token.Pos, text string, rank int) {
	name := c.room.set.Position(from).Filename
	c.tree.edits[name] = append(c.tree.edits[name], edit{c.offset(from), c.offset(to), text, rank})
}

// wrap puts an opening before a stretch and a closing behind it.
func (c *collector) wrap(n ast.Node, open, end string) {
	long := int(n.End() - n.Pos())
	c.edit(n.Pos(), n.Pos(), open, 1<<40-long)
	c.edit(n.End(), n.End(), end, -1<<40+long)
}

// kind is the type of a number as it is written for a function that takes any, "[float64]"; "" where it
// is of another package, and the function finds it out. ok is false where it is none to be passed on.
func (c *collector) kind(list ...ast.Expr) (text string, ok bool) {
	for _, e := range list {
		t := c.room.info.Types[e].Type
		if t == nil {
			continue
		}
		b, is := t.Underlying().(*types.Basic)
		if is && b.Info()&types.IsUntyped != 0 {
			continue
		}
		if !is || b.Info()&types.IsNumeric == 0 {
			return "", false
		}
		if n, is := types.Unalias(t).(*types.Named); is && n.Obj().Pkg() != c.room.types {
			return "", true
		}
		return "[" + types.TypeString(t, types.RelativeTo(c.room.types)) + "]", true
	}
	return "", false
}

// vary has an expression of constants alone pass through the logger, for each number in it.
func (c *collector) vary(e ast.Expr) {
	t, ok := c.kind(e)
	if b, is := c.room.info.Types[e].Type.(*types.Basic); !ok && is {
		t, ok = "["+types.Default(b).String()+"]", true
	}
	var open, end string
	for _, k := range c.of(e) {
		open, end = open+fmt.Sprintf("%s.V%s(%d, ", logger, t, k), end+")"
	}
	if open != "" && ok {
		c.wrap(e, open, end)
	}
}

var names = map[token.Token]string{token.LSS: "Lt", token.LEQ: "Le", token.GTR: "Gt", token.GEQ: "Ge",
	token.EQL: "Eq", token.NEQ: "Ne"}

func (c *collector) comparison(x *ast.BinaryExpr) {
	left, right := c.of(x.X), c.of(x.Y)
	if len(left)+len(right) == 0 || c.room.info.Types[x].Value != nil {
		return
	}
	t, ok := c.kind(x.X, x.Y)
	if !ok {
		return
	}
	id := c.site(x, append(left, right...))
	c.wrap(x, fmt.Sprintf("%s.%s%s(%d, ", logger, names[x.Op], t, id), ")")
	c.edit(x.OpPos, x.OpPos+token.Pos(len(x.Op.String())), ",", 0)
}

// extreme is a call of min or max.
func (c *collector) extreme(x *ast.CallExpr) {
	var of []int
	mask := 0
	for i, a := range x.Args {
		if list := c.of(a); len(list) > 0 {
			of, mask = append(of, list...), mask|1<<i
		}
	}
	if mask == 1<<len(x.Args)-1 {
		mask-- // numbers all over: the first stands for the value
	}
	t, ok := c.kind(x)
	if mask == 0 || !ok || c.room.info.Types[x].Value != nil || x.Ellipsis.IsValid() {
		return
	}
	id := c.site(x, of)
	name := "Min"
	if x.Fun.(*ast.Ident).Name == "max" {
		name = "Max"
	}
	c.edit(x.Fun.Pos(), x.Fun.End(), fmt.Sprintf("%s.%s%s", logger, name, t), 0)
	c.edit(x.Lparen+1, x.Lparen+1, fmt.Sprintf("%d, %d, ", id, mask), 0)
}

func (c *collector) site(x ast.Expr, of []int) int {
	slices.Sort(of)
	c.tree.sites = append(c.tree.sites, site{At: fmt.Sprintf("%s:%d", c.room.file(x.Pos()), c.room.set.Position(x.Pos()).Line),
		In: c.in, Text: types.ExprString(x), Of: slices.Compact(of), Safe: slices.Contains(beside(), c.room.path), Loop: c.loop})
	return len(c.tree.sites) - 1
}

// write changes the files.
func (t *instrumented) write() error {
	for name, edits := range t.edits {
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		slices.SortStableFunc(edits, func(a, b edit) int {
			return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.rank, b.rank))
		})
		var out bytes.Buffer
		at := 0
		for _, e := range edits {
			out.Write(data[at:e.from])
			out.WriteString(e.text)
			at = e.to
		}
		out.Write(data[at:])
		text := out.String()
		end := strings.Index(text, "\npackage ")
		if strings.HasPrefix(text, "package ") {
			end = 0
		} else {
			end++
		}
		line := end + strings.IndexByte(text[end:], '\n')
		text = text[:line] + "; import " + strconv.Quote("leadmark/"+logger) + text[line:]
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			return err
		}
	}
	return nil
}
