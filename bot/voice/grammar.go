package voice

import (
	"embed"
	"fmt"
	"sort"
	"strconv"
	"strings"
)

//go:embed grammar/*
var grammarFiles embed.FS

// grammar is the part of JSGF that we use: rules by name, with words, rules, (groups),
// [options], | alternatives and /weights/.
type grammar map[string]*node

type kind uint8

const (
	word     kind = iota
	rule          // <name>
	sequence      // one after the other
	choice        // one of them, by weight
	option        // perhaps
)

type node struct {
	kind   kind
	text   string // of a word or the name of a rule
	parts  []*node
	weight float64 // as a part of a choice
}

// readGrammar reads rules of the form "<name> = … ;" with // comments.
func readGrammar(text string) (grammar, error) {
	var clean strings.Builder
	for line := range strings.Lines(text) {
		line, _, _ = strings.Cut(line, "//")
		clean.WriteString(strings.TrimSuffix(line, "\n") + " ")
	}
	g := grammar{}
	for _, def := range strings.Split(clean.String(), ";") {
		if def = strings.TrimSpace(def); def == "" {
			continue
		}
		name, body, ok := strings.Cut(def, "=")
		name = strings.TrimSpace(name)
		if !ok || !isRule(name) {
			return nil, fmt.Errorf("grammar: no rule in %q", def)
		}
		r := reader{tokens: tokens(body)}
		n := r.choice()
		if r.err == nil && len(r.tokens) > 0 {
			r.err = fmt.Errorf("%q is left over", r.tokens[0])
		}
		if r.err != nil {
			return nil, fmt.Errorf("grammar: %s: %w", name, r.err)
		}
		g[name[1:len(name)-1]] = n
	}
	return g, nil
}

func isRule(t string) bool { return len(t) > 2 && t[0] == '<' && t[len(t)-1] == '>' }

// tokens cuts at blanks and brackets; a <name> may hold neither.
func tokens(s string) []string {
	for _, sign := range "()[]|" {
		s = strings.ReplaceAll(s, string(sign), " "+string(sign)+" ")
	}
	return strings.Fields(s)
}

type reader struct {
	tokens []string
	err    error
}

func (r *reader) next(want string) bool {
	if len(r.tokens) == 0 || r.tokens[0] != want {
		return false
	}
	r.tokens = r.tokens[1:]
	return true
}

func (r *reader) choice() *node {
	n := &node{kind: choice}
	for {
		weight := r.weight()
		part := r.sequence()
		part.weight = weight
		n.parts = append(n.parts, part)
		if r.err != nil || !r.next("|") {
			break
		}
	}
	if len(n.parts) == 1 {
		return n.parts[0]
	}
	return n
}

func (r *reader) weight() float64 {
	if len(r.tokens) > 0 && len(r.tokens[0]) > 2 && r.tokens[0][0] == '/' {
		w, err := strconv.ParseFloat(strings.Trim(r.tokens[0], "/"), 64)
		if err != nil || w <= 0 {
			r.err = fmt.Errorf("no weight: %q", r.tokens[0])
		}
		r.tokens = r.tokens[1:]
		return w
	}
	return 1
}

func (r *reader) sequence() *node {
	n := &node{kind: sequence}
	for r.err == nil && len(r.tokens) > 0 && !strings.Contains("|)]", r.tokens[0]) {
		t := r.tokens[0]
		r.tokens = r.tokens[1:]
		switch {
		case t == "(":
			n.parts = append(n.parts, r.choice())
			r.close(")")
		case t == "[":
			n.parts = append(n.parts, &node{kind: option, parts: []*node{r.choice()}})
			r.close("]")
		case isRule(t):
			n.parts = append(n.parts, &node{kind: rule, text: t[1 : len(t)-1]})
		default:
			n.parts = append(n.parts, &node{kind: word, text: t})
		}
	}
	return n
}

func (r *reader) close(sign string) {
	if !r.next(sign) && r.err == nil {
		r.err = fmt.Errorf("no %q", sign)
	}
}

// walk visits every part below n.
func (n *node) walk(visit func(*node)) {
	visit(n)
	for _, p := range n.parts {
		p.walk(visit)
	}
}

// reached are the rules that can be reached from one, itself included, sorted.
func (g grammar) reached(from string) []string {
	seen := map[string]bool{}
	var follow func(string)
	follow = func(name string) {
		if g[name] == nil || seen[name] {
			return
		}
		seen[name] = true
		g[name].walk(func(n *node) {
			if n.kind == rule {
				follow(n.text)
			}
		})
	}
	follow(from)
	names := make([]string, 0, len(seen))
	for name := range seen {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// words are the words that can be said under a rule, sorted.
func (g grammar) words(from string) []string {
	seen := map[string]bool{}
	for _, name := range g.reached(from) {
		g[name].walk(func(n *node) {
			if n.kind == word {
				seen[n.text] = true
			}
		})
	}
	list := make([]string, 0, len(seen))
	for w := range seen {
		list = append(list, w)
	}
	sort.Strings(list)
	return list
}

// jsgf writes the rules below one as a grammar whose sentences are any number of it.
func (g grammar) jsgf(from string) string {
	var b strings.Builder
	b.WriteString("#JSGF V1.0;\ngrammar tankside;\npublic <spoken> = <" + from + ">+ ;\n")
	for _, name := range g.reached(from) {
		fmt.Fprintf(&b, "<%s> = %s ;\n", name, g[name].jsgf())
	}
	return b.String()
}

func (n *node) jsgf() string {
	switch n.kind {
	case word:
		return n.text
	case rule:
		return "<" + n.text + ">"
	case option:
		return "[ " + n.parts[0].jsgf() + " ]"
	}
	parts := make([]string, len(n.parts))
	for i, p := range n.parts {
		parts[i] = p.jsgf()
		if n.kind == choice {
			parts[i] = fmt.Sprintf("/%g/ %s", p.weight, parts[i])
		}
	}
	if n.kind == choice {
		return "( " + strings.Join(parts, " | ") + " )"
	}
	return strings.Join(parts, " ")
}
