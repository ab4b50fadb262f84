package engine

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

//go:embed tables/*.csv
var files embed.FS

// row is one line of a table, by column name.
type row struct {
	file string
	col  map[string]int
	cell []string
}

// readTable reads an embedded table. A broken one is a broken build, so it panics.
func readTable(file string) []row {
	f, err := files.Open("tables/" + file)
	if err != nil {
		panic(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		panic(fmt.Errorf("table %s: %w", file, err))
	}
	col := make(map[string]int, len(lines[0]))
	for i, name := range lines[0] {
		col[name] = i
	}
	out := make([]row, len(lines)-1)
	for i := range out {
		out[i] = row{file, col, lines[i+1]}
	}
	return out
}

// text is the cell of a column.
func (r row) text(column string) string {
	i, ok := r.col[column]
	if !ok {
		panic("table " + r.file + ": no column " + column)
	}
	return r.cell[i]
}

// number is the cell of a column as a number; empty is absent, never zero.
func (r row) number(column string) (float64, bool) {
	t := r.text(column)
	if t == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil {
		panic(fmt.Errorf("table %s: %w", r.file, err))
	}
	return v, true
}

// band reads the columns name_lo, name_hi and name_src.
func (r row) band(name string) Band {
	lo, ok := r.number(name + "_lo")
	if !ok {
		return Band{}
	}
	hi, _ := r.number(name + "_hi")
	source, confidence, _ := strings.Cut(r.text(name+"_src"), "/")
	return Band{lo, hi, source, confidence}
}

// cite splits "KEY/H" into source key and confidence.
func (r row) cite(column string) Cite {
	source, confidence, _ := strings.Cut(r.text(column), "/")
	return Cite{source, confidence}
}

// Band is a published range with its source. The zero Band is "not published".
type Band struct {
	Lo, Hi     float64
	Source     string // key in sources.csv
	Confidence string // "H", "M" or "L"
}

// Known says whether anything was published.
func (b Band) Known() bool { return b.Source != "" }

// Cite says where a statement comes from.
type Cite struct {
	Source     string // key in sources.csv
	Confidence string // "H", "M" or "L"
}

// Source is one line of sources.csv.
type Source struct {
	Key, Author, Title, Publisher, Year, Page, Address string

	Seen   string // date it was read, empty when it was not
	Status string // "read" or "memory"
}

var (
	allSources  = readSources()
	sourceByKey = byKey(allSources, func(s *Source) string { return s.Key })
)

func readSources() []*Source {
	var out []*Source
	for _, r := range readTable("sources.csv") {
		out = append(out, &Source{Key: r.text("key"), Author: r.text("author"), Title: r.text("title"),
			Publisher: r.text("publisher"), Year: r.text("year"), Page: r.text("page"),
			Address: r.text("address"), Seen: r.text("seen"), Status: r.text("status")})
	}
	return out
}

func byKey[T any](list []*T, key func(*T) string) map[string]*T {
	m := make(map[string]*T, len(list))
	for _, t := range list {
		m[key(t)] = t
	}
	return m
}

// SourceNamed finds a source by its key; nil when there is none.
func SourceNamed(key string) *Source { return sourceByKey[key] }

// Sources lists every source in the order of the table.
func Sources() []*Source { return allSources }
