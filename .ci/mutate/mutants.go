package main

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"slices"
	"strings"
)

// A mutant is one token read as another.
type mutant struct {
	file     string // from the module's root
	line     int
	function string
	from, to string
	code     string // the line of code, as it is written
	nth      int    // which of several alike in that function
}

// key tells the mutant in equivalent.txt; it outlives changes elsewhere in the file.
func (m mutant) key() string {
	k := fmt.Sprintf("%s %s `%s` %s -> %s", m.file, m.function, m.code, m.from, m.to)
	if m.nth > 0 {
		k += fmt.Sprintf(" #%d", m.nth+1)
	}
	return k
}

// parseEquivalent reads lines of key, tab, reason.
func parseEquivalent(text string) (map[string]bool, error) {
	equal := map[string]bool{}
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		key, reason, _ := strings.Cut(line, "\t")
		if reason == "" {
			return nil, fmt.Errorf("equivalent.txt: no reason given: %s", line)
		}
		equal[key] = true
	}
	return equal, nil
}

// An edit puts text in the place of the bytes from to end.
type edit struct {
	from, end int
	text      string
}

// A rewriter puts the switches of the mutants into a file.
type rewriter struct {
	info    *types.Info
	fset    *token.FileSet
	src     []byte
	file    string
	first   int // number of the first mutant
	mutants []mutant
	open    []edit // in the order of the walk: what is outside comes first
	close   []edit
	within  []string // functions that are open
	seen    map[string]int
}

// rewrite gives the file with every mutant in it, and those mutants, which are numbered from first.
func (r *rewriter) rewrite(f *ast.File) ([]byte, []mutant) {
	src := r.src
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Body != nil {
				r.function(d)
			}
		case *ast.GenDecl:
			if d.Tok == token.VAR {
				r.within = []string{"var"}
				ast.Inspect(d, r.visit)
			}
		}
	}
	if len(r.mutants) == 0 {
		return src, nil
	}
	// Where several close at one place, the one that opened last closes first.
	slices.Reverse(r.close)
	edits := append(r.close, r.open...)
	edits = append(edits, edit{r.at(f.Name.End()), r.at(f.Name.End()), `; import mutant__ "` + switchPath + `"`})
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var out []byte
	last := 0
	for _, e := range edits {
		out = append(append(out, src[last:e.from]...), e.text...)
		last = e.end
	}
	return append(out, src[last:]...), r.mutants
}

func (r *rewriter) function(d *ast.FuncDecl) {
	name := d.Name.Name
	if d.Recv != nil {
		name = strings.TrimLeft(types.ExprString(d.Recv.List[0].Type), "*") + "." + name
	}
	r.within = []string{name}
	ast.Inspect(d.Body, r.visit)
}

func (r *rewriter) at(p token.Pos) int { return r.fset.Position(p).Offset }

// add numbers a mutant and remembers it.
func (r *rewriter) add(p token.Pos, from, to string) int {
	at := r.fset.Position(p)
	lines := strings.Split(string(r.src), "\n")
	m := mutant{file: r.file, line: at.Line, function: r.within[0], from: from, to: to, code: strings.Join(strings.Fields(lines[at.Line-1]), " ")}
	like := m.key()
	m.nth = r.seen[like]
	r.seen[like]++
	r.mutants = append(r.mutants, m)
	return r.first + len(r.mutants) - 1
}

func (r *rewriter) around(n ast.Node, before, after string) {
	r.open = append(r.open, edit{r.at(n.Pos()), r.at(n.Pos()), before})
	r.close = append(r.close, edit{r.at(n.End()), r.at(n.End()), after})
}

func (r *rewriter) replace(p token.Pos, length int, text string) {
	r.open = append(r.open, edit{r.at(p), r.at(p) + length, text})
}

var opposite = map[token.Token]token.Token{
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL, token.REM: token.MUL,
	token.LAND: token.LOR, token.LOR: token.LAND, token.INC: token.DEC, token.DEC: token.INC,
}

var boundary = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
}

var helper = map[token.Token]string{
	token.LSS: "Less", token.LEQ: "LessEqual", token.GTR: "Greater", token.GEQ: "GreaterEqual",
	token.ADD: "Add", token.SUB: "Sub", token.MUL: "Mul", token.QUO: "Quo", token.REM: "Rem",
}

func (r *rewriter) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.GenDecl:
		return n.Tok != token.CONST
	case *ast.ArrayType: // its length is a constant
		ast.Inspect(n.Elt, r.visit)
		return false
	case *ast.IncDecStmt:
		id := r.add(n.TokPos, n.Tok.String(), opposite[n.Tok].String())
		x := string(r.src[r.at(n.X.Pos()):r.at(n.X.End())])
		r.replace(n.TokPos, 2, fmt.Sprintf(" %c= mutant__.Step(%d, %s)", n.Tok.String()[0], id, x))
	case *ast.UnaryExpr:
		if n.Op == token.SUB {
			return r.minus(n)
		}
	case *ast.BinaryExpr:
		return r.binary(n)
	}
	return true
}

func (r *rewriter) minus(n *ast.UnaryExpr) bool {
	t := r.info.Types[n]
	b, ok := t.Type.(*types.Basic) // a constant has to be given its type by name
	if t.Value == nil {
		r.around(n.X, fmt.Sprintf("mutant__.Sign(%d, ", r.add(n.OpPos, "-", "+")), ")")
		r.replace(n.OpPos, 1, "")
		return true
	}
	if ok && b.Info()&types.IsUntyped == 0 && b.Info()&types.IsUnsigned == 0 {
		r.around(n.X, fmt.Sprintf("mutant__.Sign[%s](%d, ", b.Name(), r.add(n.OpPos, "-", "+")), ")")
		r.replace(n.OpPos, 1, "")
	}
	return false
}

func (r *rewriter) binary(n *ast.BinaryExpr) bool {
	t := r.info.Types[n]
	if t.Value != nil {
		return false // a constant
	}
	x, y := r.info.Types[n.X], r.info.Types[n.Y]
	op := n.Op.String()
	switch n.Op {
	case token.LAND, token.LOR:
		// a && b is !(!a || !b): the switch turns both arguments and the result.
		id := r.add(n.OpPos, op, opposite[n.Op].String())
		r.around(n, "((((", fmt.Sprintf(") != mutant__.On(%d))) != mutant__.On(%d))", id, id))
		r.replace(n.OpPos, 2, fmt.Sprintf(") != mutant__.On(%d)) %s ((", id, op))
		return true
	case token.EQL, token.NEQ:
		r.around(n, fmt.Sprintf("(mutant__.On(%d) != (", r.add(n.OpPos, op, opposite[n.Op].String())), "))")
		return true
	case token.LSS, token.LEQ, token.GTR, token.GEQ:
		id := r.add(n.OpPos, op, boundary[n.Op].String())
		r.add(n.OpPos, op, opposite[n.Op].String())
		r.around(n, fmt.Sprintf("mutant__.%s(%d, ", helper[n.Op], id), ")")
		r.replace(n.OpPos, len(op), ",")
		return true
	case token.ADD, token.SUB, token.MUL, token.QUO, token.REM:
		if numeric(t.Type) && (typed(x.Type) || typed(y.Type)) {
			as := "" // an untyped shift takes its type from what is around it
			if b, ok := t.Type.(*types.Basic); ok && b.Info()&types.IsUntyped == 0 {
				as = "[" + b.Name() + "]"
			}
			r.around(n, fmt.Sprintf("mutant__.%s%s(%d, ", helper[n.Op], as, r.add(n.OpPos, op, opposite[n.Op].String())), ")")
			r.replace(n.OpPos, 1, ",")
		}
		return true
	}
	return true
}

func numeric(t types.Type) bool {
	if p, ok := t.(*types.TypeParam); ok {
		t = p.Underlying()
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0
}

func typed(t types.Type) bool {
	b, ok := t.(*types.Basic)
	return !ok || b.Info()&types.IsUntyped == 0
}
