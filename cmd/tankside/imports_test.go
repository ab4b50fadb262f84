package main

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// rule is what a package may import of ours and of others, and what of the standard
// library it must not import itself.
type rule struct {
	ours   []string // directly or through others
	others []string // modules, directly
	not    []string // packages of the standard library
	why    string
}

var (
	outside = []string{"os", "os/exec", "net", "net/http", "database/sql", "log", "log/slog", "math/rand", "math/rand/v2", "crypto/rand"}
	calc    = []string{"engine", "engine/unit"}
)

// rules are all packages. A new one has to be put here, with its reason.
var rules = map[string]rule{
	"engine/unit": {not: append(outside, "time"),
		why: "factors are arithmetic and nothing else"},
	"engine": {ours: []string{"engine/unit"}, others: []string{"gonum.org/v1/gonum"}, not: outside,
		why: "the same facts give the same answer, anywhere and at any time"},
	"parse": {ours: calc, others: []string{"github.com/alecthomas/participle/v2"}, not: outside,
		why: "what is read depends on the text alone; wording and memory are not its business"},
	"phrases": {ours: calc, others: []string{"github.com/dustin/go-humanize"}, not: outside,
		why: "wording sees results, never what people wrote"},
	"phrases/chart": {ours: append([]string{"phrases"}, calc...), others: []string{"github.com/go-analyze/charts", "golang.org/x/image"}, not: outside,
		why: "a picture is a way of saying numbers; it takes them as they are"},
	"bot": {ours: append([]string{"parse", "phrases"}, calc...), not: []string{"os", "os/exec", "net", "net/http", "database/sql"},
		why: "whole conversations are tested without a transport or a database"},
	"bot/store": {ours: append([]string{"bot", "parse", "phrases"}, calc...), others: []string{"modernc.org/sqlite", "github.com/pressly/goose/v3", "github.com/jackc/pgx/v5"},
		not: []string{"net/http"}, why: "SQL lives here and only here"},
	"bot/store/pgtest": {others: []string{"github.com/jackc/pgx/v5"}, not: []string{"net/http"},
		why: "a server for tests knows nothing of what is tested on it"},
	"bot/record": {ours: append([]string{"bot", "parse", "phrases"}, calc...),
		others: []string{"github.com/xuri/excelize/v2", "github.com/go-pdf/fpdf", "golang.org/x/image"}, not: []string{"os", "os/exec", "net", "net/http", "database/sql"},
		why: "a record is made from rows that it is handed; where they come from is not its business"},
	"bot/bottest": {ours: append([]string{"bot", "parse", "phrases"}, calc...), not: outside,
		why: "fakes need what they stand for, and no more"},
	"bot/terminal": {ours: append([]string{"bot", "parse", "phrases"}, calc...), others: []string{"github.com/chzyer/readline"},
		not: []string{"database/sql", "net/http"}, why: "a transport knows neither the store nor another transport"},
	"bot/remind": {ours: append([]string{"bot", "parse", "phrases"}, calc...), not: []string{"database/sql", "net/http", "os"},
		why: "the table is the truth: the loop only asks what is due"},
	"bot/telegram": {ours: append([]string{"bot", "bot/remind", "parse", "phrases", "phrases/chart"}, calc...),
		others: []string{"github.com/go-telegram/bot", "github.com/prometheus/client_golang", "golang.org/x/time"}, not: []string{"database/sql", "os"},
		why: "a transport knows neither the store nor another transport"},
	"bot/telegram/apitest": {not: []string{"database/sql"},
		why: "a measure of the transport shares nothing with it"},
	"bot/voice": {others: []string{"github.com/thesyncim/gopus"}, not: []string{"database/sql"},
		why: "it turns sound into words and back, and does not know what they mean"},
	"cmd/tankside": {ours: append([]string{"bot", "bot/record", "bot/remind", "bot/store", "bot/telegram", "bot/terminal", "bot/voice", "parse", "phrases", "phrases/chart"}, calc...),
		others: []string{"github.com/alecthomas/kong", "github.com/go-telegram/bot", "github.com/prometheus/client_golang"}, why: "it wires everything"},
}

// direct are imports that only reach a package through another of ours: allowed in
// the full list above, not in its own files.
var direct = map[string][]string{
	"bot/store":    {"parse", "phrases"},
	"bot/terminal": {"parse"},
	"bot/remind":   {"parse", "phrases"},
	"bot/telegram": {"parse", "bot/store"},
	"bot/bottest":  {"parse", "phrases"},
	"bot/record":   {"parse"},
}

// listed is a package as the go command lists it.
type listed struct {
	ImportPath    string
	Imports, Deps []string
}

func TestImports(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, "tankside/")
		r, ok := rules[name]
		if !ok {
			t.Errorf("%s has no rule: add one, with its reason", name)
			continue
		}
		seen[name] = true
		for _, dep := range p.Deps {
			if ours, ok := strings.CutPrefix(dep, "tankside/"); ok && !slices.Contains(r.ours, ours) {
				t.Errorf("%s reaches %s: %s", name, ours, r.why)
			}
		}
		for _, imp := range p.Imports {
			checkDirect(t, name, imp, r)
		}
	}
	for name := range rules {
		if !seen[name] {
			t.Errorf("there is a rule for %s, but no such package", name)
		}
	}
}

func checkDirect(t *testing.T, name, imp string, r rule) {
	ours, isOurs := strings.CutPrefix(imp, "tankside/")
	first, _, _ := strings.Cut(imp, "/")
	switch {
	case isOurs:
		if slices.Contains(direct[name], ours) {
			t.Errorf("%s imports %s: %s", name, ours, r.why)
		}
	case strings.Contains(first, "."): // another module
		if !slices.ContainsFunc(r.others, func(m string) bool { return imp == m || strings.HasPrefix(imp, m+"/") }) {
			t.Errorf("%s imports %s: %s", name, imp, r.why)
		}
	case slices.Contains(r.not, imp):
		t.Errorf("%s imports %s: %s", name, imp, r.why)
	}
}

func packages(t *testing.T) (list []listed) {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports,Deps", "tankside/...")
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for dec := json.NewDecoder(out); ; {
		var p listed
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	return list
}

// clocks are the functions of package time that look at the clock or wait for it.
var clocks = []string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Sleep"}

// What time it is comes with the message. Nothing below the transports looks at a clock.
func TestNobodyReadsTheClock(t *testing.T) {
	for _, folder := range []string{"engine", "engine/unit", "parse", "phrases", "bot"} {
		files, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(folder), "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: no files: %v", folder, err)
		}
		for _, file := range files {
			if !strings.HasSuffix(file, "_test.go") {
				for _, call := range clockCalls(t, file) {
					t.Errorf("%s uses time.%s: the time comes with the message", file, call)
				}
			}
		}
	}
}

// clockCalls lists what a file uses of clocks, whatever it calls package time.
func clockCalls(t *testing.T, file string) (calls []string) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	name := ""
	for _, imp := range f.Imports {
		if imp.Path.Value == `"time"` {
			if name = "time"; imp.Name != nil {
				name = imp.Name.Name
			}
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if pkg, ok := s.X.(*ast.Ident); ok && name != "" && pkg.Name == name && slices.Contains(clocks, s.Sel.Name) {
				calls = append(calls, s.Sel.Name)
			}
		}
		return true
	})
	return calls
}

func TestClockCallsSeesThem(t *testing.T) {
	file := filepath.Join(t.TempDir(), "x.go")
	text := "package x\nimport clock \"time\"\nvar a = clock.Now()\nvar b = clock.Second\nvar f = clock.Since\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := clockCalls(t, file); !slices.Equal(got, []string{"Now", "Since"}) {
		t.Errorf("got %v", got)
	}
}
