package engine

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"tankside/engine/unit"
)

// example is one case of testdata/worked. The files are never rewritten by a tool.
type example struct {
	file, source, page, title, call string
	named                           []string
	given                           []quantity
	gives                           quantity
	tolerance                       float64 // in the unit of gives
	disagrees                       string  // why the source and we differ
	printed                         string  // a published wrong value that we must stay away from
}

type quantity struct {
	v float64
	u *unit.Unit
}

func (q quantity) base() float64 { return q.u.ToBase(q.v) }

func readQuantity(s string) (quantity, error) {
	number, symbol, _ := strings.Cut(strings.TrimSpace(s), " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		// A unit alone: what Convert converts into.
		if u := unit.Find(strings.TrimSpace(s)); u != nil {
			return quantity{1, u}, nil
		}
		return quantity{}, err
	}
	u := unit.Find(symbol)
	if u == nil {
		return quantity{}, fmt.Errorf("no unit %q", symbol)
	}
	return quantity{v, u}, nil
}

// set reads one "key: value" line; unknown keys are errors.
func (e *example) set(key, value string) (err error) {
	switch key {
	case "source":
		e.source = value
	case "page":
		e.page = value
	case "case":
		e.title = value
	case "call":
		e.call = value
	case "named":
		e.named = strings.Fields(value)
		if CropNamed(value) != nil {
			e.named = []string{value}
		}
	case "given":
		for _, part := range strings.Split(value, ";") {
			if strings.TrimSpace(part) == "" {
				continue
			}
			q, err := readQuantity(part)
			if err != nil {
				return err
			}
			e.given = append(e.given, q)
		}
	case "gives":
		e.gives, err = readQuantity(value)
	case "tolerance":
		e.tolerance, err = strconv.ParseFloat(value, 64)
	case "disagrees":
		e.disagrees = value
	case "printed":
		e.printed = value
	default:
		return fmt.Errorf("unknown key %q", key)
	}
	return err
}

func readExamples(t testing.TB) []example {
	t.Helper()
	paths, err := filepath.Glob("../testdata/worked/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no worked examples: %v", err)
	}
	var out []example
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, block := range strings.Split(string(text), "\n\n") {
			e := example{file: filepath.Base(path)}
			for _, line := range strings.Split(strings.TrimSpace(block), "\n") {
				if strings.HasPrefix(line, "#") {
					continue
				}
				key, value, ok := strings.Cut(line, ":")
				if !ok {
					t.Fatalf("%s: no key in %q", path, line)
				}
				if err := e.set(strings.TrimSpace(key), strings.TrimSpace(value)); err != nil {
					t.Fatalf("%s: %s: %v", path, line, err)
				}
			}
			if e.call == "" || e.title == "" || e.gives.u == nil {
				t.Fatalf("%s: a case lacks call, case or gives: %q", path, block)
			}
			out = append(out, e)
		}
	}
	return out
}

func TestWorkedExamples(t *testing.T) {
	for _, e := range readExamples(t) {
		t.Run(e.file+"/"+e.title, func(t *testing.T) {
			if SourceNamed(e.source) == nil {
				t.Errorf("source %q is not in sources.csv", e.source)
			}
			call := calls[e.call]
			if call == nil {
				t.Fatalf("no function %s", e.call)
			}
			b, err := call(&e)
			if err != nil {
				t.Fatal(err)
			}
			got := e.gives.u.FromBase(b)
			// Half a printed digit is half of it, whatever its binary form.
			fits := math.Abs(got-e.gives.v) <= e.tolerance*(1+1e-6)
			switch {
			case e.disagrees != "" && fits:
				t.Errorf("%g agrees with the source now; take out: disagrees: %s", got, e.disagrees)
			case e.disagrees == "" && !fits:
				t.Errorf("%s gives %g %s, the source %g ± %g", e.call, got, e.gives.u.Symbol, e.gives.v, e.tolerance)
			}
			if e.printed != "" {
				wrong, err := readQuantity(e.printed)
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(got-wrong.v) <= math.Abs(e.gives.v-wrong.v)/2 {
					t.Errorf("%g is the trap's %g", got, wrong.v)
				}
			}
		})
	}
}

// The promise: at least sixty values as published, each from a named source.
func TestEnoughPublishedValues(t *testing.T) {
	n := 0
	for _, e := range readExamples(t) {
		if e.file != "computed.txt" && e.file != "traps.txt" && e.disagrees == "" {
			n++
		}
	}
	if n < 60 {
		t.Errorf("%d published values, want 60", n)
	}
}

// Every exported function has a worked example or a reason not to.
func TestEveryFunctionHasAnExample(t *testing.T) {
	worked := map[string]bool{}
	for _, e := range readExamples(t) {
		worked[e.call] = true
		for _, part := range composed[e.call] {
			worked[part] = true
		}
	}
	exported := exportedFunctions(t)
	for name := range exported {
		switch reason := noExample[name]; {
		case worked[name] && reason != "":
			t.Errorf("%s has a worked example; take it off the list", name)
		case !worked[name] && reason == "":
			t.Errorf("%s has neither a worked example nor a reason", name)
		}
	}
	for name := range noExample {
		if !exported[name] {
			t.Errorf("%s is on the list of exceptions, but is no function", name)
		}
	}
}

// exportedFunctions lists functions as "Name" and methods as "Type.Name".
func exportedFunctions(t *testing.T) map[string]bool {
	out := map[string]bool{}
	paths, _ := filepath.Glob("*.go")
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || !fn.Name.IsExported() {
				continue
			}
			out[receiver(fn)+fn.Name.Name] = true
		}
	}
	return out
}

func receiver(fn *ast.FuncDecl) string {
	if fn.Recv == nil {
		return ""
	}
	typ := fn.Recv.List[0].Type
	if p, ok := typ.(*ast.StarExpr); ok {
		typ = p.X
	}
	return typ.(*ast.Ident).Name + "."
}
