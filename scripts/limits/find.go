package main

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"path/filepath"
	"slices"
)

// number is one that decides: a named constant, or one that stands bare where something is decided.
type number struct {
	room, file, in, name string // in: the declaration it stands in; name: "" for one that is bare
	text                 string
	line                 int
	weight               bool   // bare, and not in a condition: it decides by way of a value
	exact                string // why it is no limit

	object types.Object  // of a name
	at     *ast.BasicLit // of one that is bare
}

func (n *number) String() string { return n.place() + " " + n.in + ": " + n.what() }

func (n *number) place() string { return fmt.Sprintf("%s:%d", n.file, n.line) }

func (n *number) what() string {
	if n.name != "" {
		return n.name + " = " + n.text
	}
	return n.text
}

// key names it in lists: it stays where lines move.
func (n *number) key() string { return n.room + " " + n.in + " " + n.text }

// numbers lists those of a room. A limit is
//
//   - every named constant with a number of its own, be it 0, 1 or 2;
//   - every other number, but 0, 1 and 2, that stands in a comparison, in a call of min or max, in a
//     case of a switch or as the count of a loop; a half only where it is not added.
//
// A weight decides by way of a value: a bare number, but 0, 1, 2 and a half, in what a function
// returns, in what a variable is given, in an argument of a function of this tree or in a literal of
// one of its types. Weights are counted beside the limits.
//
// What stands twice in a statement counts once there, as the two ends of a range do. Indexes, shifts,
// sizes and tables are no limits, nor is 255, the whole of eight bits; what else is exact, by
// mathematics, physics or a standard, stands in a list with its reason.
func (r *room) numbers() (all []*number) {
	for _, f := range r.files {
		for _, d := range f.Decls {
			w := walk{room: r, in: declName(d)}
			ast.Walk(&w, d)
			all = append(all, w.found...)
		}
	}
	for _, n := range all {
		n.exact = exact()[n.key()]
	}
	slices.SortStableFunc(all, func(a, b *number) int {
		return cmp.Or(cmp.Compare(a.file, b.file), cmp.Compare(a.line, b.line))
	})
	return all
}

func declName(d ast.Decl) string {
	f, is := d.(*ast.FuncDecl)
	if !is {
		return "top"
	}
	if f.Recv == nil {
		return f.Name.Name
	}
	t := f.Recv.List[0].Type
	if star, is := t.(*ast.StarExpr); is {
		t = star.X
	}
	if x, is := t.(*ast.IndexExpr); is {
		t = x.X
	}
	return t.(*ast.Ident).Name + "." + f.Name.Name
}

// walk collects the numbers of a declaration, with the nodes on the way to where it is.
type walk struct {
	room  *room
	in    string
	way   []ast.Node
	found []*number
}

func (w *walk) Visit(n ast.Node) ast.Visitor {
	if n == nil {
		w.way = w.way[:len(w.way)-1]
		return nil
	}
	w.way = append(w.way, n)
	switch x := n.(type) {
	case *ast.GenDecl:
		if x.Tok == token.CONST {
			w.constants(x)
			w.way = w.way[:len(w.way)-1]
			return nil
		}
	case *ast.BasicLit:
		if is, weight := w.decides(x); is && !w.twice(x) {
			n := w.number(x, "", x.Value, x)
			n.weight = weight
			w.found = append(w.found, n)
		}
	}
	return w
}

func (w *walk) number(at ast.Node, name, text string, lit *ast.BasicLit) *number {
	return &number{room: w.room.path, file: w.room.file(at.Pos()), in: w.in, name: name, text: text,
		line: w.room.set.Position(at.Pos()).Line, at: lit}
}

// constants are the numbers of a declaration that are given as such.
func (w *walk) constants(d *ast.GenDecl) {
	for _, s := range d.Specs {
		v := s.(*ast.ValueSpec)
		for i, name := range v.Names {
			o := w.room.info.Defs[name]
			b, is := o.Type().Underlying().(*types.Basic)
			if name.Name == "_" || !is || b.Info()&types.IsNumeric == 0 || i >= len(v.Values) ||
				w.derived(v.Values[i]) {
				continue
			}
			n := w.number(name, name.Name, types.ExprString(v.Values[i]), nil)
			n.object = o
			if w.in == "top" {
				n.in = name.Name
			}
			w.found = append(w.found, n)
		}
	}
}

// derived says whether a constant follows from others of this tree, or numbers the names of a list: it
// has no number of its own.
func (w *walk) derived(e ast.Expr) bool {
	own, names := false, false
	ast.Inspect(e, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.BasicLit:
			own = own || !plain(x)
		case *ast.Ident:
			c, is := w.room.info.Uses[x].(*types.Const)
			iota := is && c.Pkg() == nil
			names, own = names || is, own || is && !iota && !ours(c.Pkg())
		}
		return true
	})
	return names && !own
}

// plain are numbers that stand for arithmetic.
func plain(l *ast.BasicLit) bool {
	v := constant.MakeFromLiteral(l.Value, l.Kind, 0)
	for _, k := range []int64{0, 1, 2, 255} {
		if constant.Compare(constant.ToFloat(v), token.EQL, constant.ToFloat(constant.MakeInt64(k))) {
			return true
		}
	}
	return false
}

func half(l *ast.BasicLit) bool {
	v, _ := constant.Float64Val(constant.ToFloat(constant.MakeFromLiteral(l.Value, l.Kind, 0)))
	return v == 0.5
}

// twice says whether a number stood in the same statement before.
func (w *walk) twice(l *ast.BasicLit) bool {
	var in ast.Node
	for i := len(w.way) - 1; i >= 0 && in == nil; i-- {
		switch w.way[i].(type) {
		case *ast.BlockStmt, *ast.CaseClause:
			in = w.way[i+1]
		}
	}
	if in == nil {
		return false
	}
	return slices.ContainsFunc(w.found, func(n *number) bool {
		return n.at != nil && n.text == l.Value && n.at.Pos() >= in.Pos() && n.at.End() <= in.End()
	})
}

// decides says whether a number that stands bare does, and whether it does as a weight: by what is
// about it, from the inside out.
func (w *walk) decides(l *ast.BasicLit) (is, weight bool) {
	if l.Kind != token.INT && l.Kind != token.FLOAT || plain(l) {
		return false, false
	}
	added := false
	for i := len(w.way) - 2; i >= 0; i-- {
		inner := w.way[i+1]
		switch x := w.way[i].(type) {
		case *ast.BinaryExpr:
			if compares(x.Op) && w.numeric(x.X) {
				return !(half(l) && added), false
			}
			if slices.Contains(bits(), x.Op) {
				return false, false
			}
			added = added || (x.Op == token.ADD || x.Op == token.SUB) && inner == ast.Node(l)
		case *ast.IndexExpr:
			if inner == ast.Node(x.Index) {
				return false, false
			}
		case *ast.SliceExpr:
			if inner != ast.Node(x.X) {
				return false, false
			}
		case *ast.ArrayType, *ast.FieldList, *ast.ImportSpec, *ast.FuncLit:
			return false, false
		case *ast.CallExpr:
			if w.room.least(x) {
				return !(half(l) && added), false
			}
			if w.makes(x) {
				return false, false
			}
			weight = weight || w.owns(x)
		case *ast.CaseClause:
			return slices.ContainsFunc(x.List, func(e ast.Expr) bool { return ast.Node(e) == inner }), false
		case *ast.RangeStmt:
			return inner == ast.Node(x.X), false
		case *ast.CompositeLit:
			if w.table(x) {
				return false, false
			}
			weight = weight || ours(w.typeOf(x))
		case *ast.ReturnStmt, *ast.AssignStmt, *ast.ValueSpec:
			return !half(l), true
		case ast.Stmt:
			return weight && !half(l), true
		}
	}
	return false, false
}

func bits() []token.Token {
	return []token.Token{token.SHL, token.SHR, token.AND, token.OR, token.XOR, token.AND_NOT, token.REM}
}

func compares(op token.Token) bool {
	return slices.Contains([]token.Token{token.LSS, token.LEQ, token.GTR, token.GEQ, token.EQL, token.NEQ}, op)
}

func (w *walk) numeric(e ast.Expr) bool {
	b, is := w.room.info.Types[e].Type.Underlying().(*types.Basic)
	return is && b.Info()&types.IsNumeric != 0
}

// least says whether a call is one of min or max.
func (r *room) least(c *ast.CallExpr) bool {
	id, is := c.Fun.(*ast.Ident)
	if !is || id.Name != "min" && id.Name != "max" {
		return false
	}
	_, built := r.info.Uses[id].(*types.Builtin)
	return built
}

func (w *walk) makes(c *ast.CallExpr) bool {
	id, is := c.Fun.(*ast.Ident)
	return is && id.Name == "make"
}

// owns says whether a call is one of this tree's functions.
func (w *walk) owns(c *ast.CallExpr) bool {
	var id *ast.Ident
	switch f := ast.Unparen(c.Fun).(type) {
	case *ast.Ident:
		id = f
	case *ast.SelectorExpr:
		id = f.Sel
	default:
		return false
	}
	f, is := w.room.info.Uses[id].(*types.Func)
	return is && ours(f.Pkg())
}

// table says whether a literal is one of a list.
func (w *walk) table(c *ast.CompositeLit) bool {
	switch w.room.info.Types[c].Type.Underlying().(type) {
	case *types.Slice, *types.Array, *types.Map:
		return true
	}
	return false
}

// typeOf is the package of a literal's type.
func (w *walk) typeOf(c *ast.CompositeLit) *types.Package {
	t := w.room.info.Types[c].Type
	if p, is := t.(*types.Pointer); is {
		t = p.Elem()
	}
	n, is := types.Unalias(t).(*types.Named)
	if !is {
		return nil
	}
	return n.Obj().Pkg()
}

// inLimits says whether it stands where a package gathers its limits.
func (n *number) inLimits() bool { return filepath.Base(n.file) == "limits.go" }
