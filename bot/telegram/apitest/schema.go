package apitest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
)

// table is testdata/telegram/bot-api.json: what each method and object takes.
type table struct {
	Methods map[string]map[string]string `json:"methods"`
	Objects map[string]json.RawMessage   `json:"objects"`

	fields map[string]map[string]string
	alias  map[string]string
}

// loadTable reads the table from the module's testdata, wherever the test runs.
var loadTable = sync.OnceValues(func() (*table, error) {
	dir, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	for {
		data, err := os.ReadFile(filepath.Join(dir, "testdata", "telegram", "bot-api.json"))
		if err == nil {
			return readTable(data)
		}
		up := filepath.Dir(dir)
		if up == dir {
			return nil, fmt.Errorf("testdata/telegram/bot-api.json: %w", err)
		}
		dir = up
	}
})

func readTable(data []byte) (*table, error) {
	t := &table{fields: map[string]map[string]string{}, alias: map[string]string{}}
	if err := json.Unmarshal(data, t); err != nil {
		return nil, err
	}
	for name, raw := range t.Objects {
		var fields map[string]string
		if json.Unmarshal(raw, &fields) == nil {
			t.fields[name] = fields
			continue
		}
		var alias string
		if err := json.Unmarshal(raw, &alias); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		t.alias[name] = alias
	}
	return t, nil
}

// check holds a call's parameters to the method: all that it needs, nothing that it
// does not know, everything of its type.
func (t *table) check(method string, params map[string]any) error {
	fields, ok := t.Methods[method]
	if !ok {
		return fmt.Errorf("no such method")
	}
	return t.object(method, fields, params)
}

func (t *table) object(path string, fields map[string]string, v map[string]any) error {
	names := make([]string, 0, len(v))
	for name := range v {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		kind, ok := fields[name]
		if !ok {
			kind, ok = fields[name+"?"]
		}
		if !ok {
			return fmt.Errorf("%s: unknown field %s", path, name)
		}
		if err := t.value(path+"."+name, kind, v[name]); err != nil {
			return err
		}
	}
	for name := range fields {
		if _, given := v[name]; !strings.HasSuffix(name, "?") && !given {
			return fmt.Errorf("%s: %s is missing", path, name)
		}
	}
	return nil
}

// value holds a value to a type; of alternatives one must do.
func (t *table) value(path, kind string, v any) error {
	var first error
	for _, one := range alternatives(kind) {
		err := t.one(path, one, v)
		if err == nil {
			return nil
		}
		if first == nil || strings.Count(err.Error(), ".") > strings.Count(first.Error(), ".") {
			first = err // the one that got furthest tells most
		}
	}
	return first
}

// alternatives splits at the bars that are in no brackets and no quotes.
func alternatives(kind string) (out []string) {
	depth, quoted, from := 0, false, 0
	for i, c := range kind {
		switch {
		case c == '"':
			quoted = !quoted
		case c == '(':
			depth++
		case c == ')':
			depth--
		case c == '|' && depth == 0 && !quoted:
			out, from = append(out, kind[from:i]), i+1
		}
	}
	return append(out, kind[from:])
}

func (t *table) one(path, kind string, v any) error {
	if rest, ok := strings.CutPrefix(kind, "[]"); ok {
		list, ok := v.([]any)
		if !ok {
			return fmt.Errorf("%s: not a list", path)
		}
		for i, x := range list {
			if err := t.value(fmt.Sprintf("%s.%d", path, i), strings.TrimSuffix(strings.TrimPrefix(rest, "("), ")"), x); err != nil {
				return err
			}
		}
		return nil
	}
	ok := false
	switch kind {
	case "number":
		_, ok = v.(float64)
	case "string":
		_, ok = v.(string)
	case "boolean":
		_, ok = v.(bool)
	case "true":
		ok = v == true
	case "file":
		_, ok = v.(file)
	default:
		return t.named(path, kind, v)
	}
	if !ok {
		return fmt.Errorf("%s: %v is no %s", path, v, kind)
	}
	return nil
}

func (t *table) named(path, kind string, v any) error {
	if strings.HasPrefix(kind, `"`) {
		if v != strings.Trim(kind, `"`) {
			return fmt.Errorf("%s: %v is not %s", path, v, kind)
		}
		return nil
	}
	if alias, ok := t.alias[kind]; ok {
		return t.value(path, alias, v)
	}
	fields, ok := t.fields[kind]
	if !ok {
		return fmt.Errorf("%s: the table has no %s", path, kind)
	}
	m, ok := v.(map[string]any)
	if !ok {
		return fmt.Errorf("%s: %v is no %s", path, v, kind)
	}
	return t.object(path, fields, m)
}

// typed reads a parameter that came as text into what its type says.
func (t *table) typed(method, name, text string) any {
	kind, ok := t.Methods[method][name]
	if !ok {
		kind = t.Methods[method][name+"?"]
	}
	kinds := alternatives(kind)
	for _, k := range kinds {
		if k == "string" && len(kinds) == 1 || strings.HasPrefix(k, `"`) {
			return text
		}
	}
	var v any
	if json.Unmarshal([]byte(text), &v) != nil {
		return text
	}
	return v
}
