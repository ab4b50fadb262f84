package phrases

import (
	"embed"
	"fmt"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

//go:embed lang/*.txt
var files embed.FS

// language is one catalogue, compiled. Texts are found by section and name: the
// key "note.presoak" is texts["note"]["presoak"].
type language struct {
	code  string
	texts map[string]map[string]*text
	units map[string]unitText
	words numberWords
	own   map[string]bool // the keys of this file, before English filled the gaps

	// The texts needed once or more per value, by slot.
	slot, given, result []*text
}

// text is one entry in the form to read and the form to hear.
type text struct{ shown, heard variants }

// variants are the singular and the plural; both are the same where there is one.
type variants struct {
	one, many []segment
	uses      uint32 // the placeholders in it, a bit each; the plural goes by {n} if it is one, else by {a}
}

func (v *variants) has(arg byte) bool { return v.uses&(1<<arg) != 0 }

// segment is a piece of fixed text and then a placeholder, if any.
type segment struct {
	lit    string
	arg    byte // index in placeholders, plus one; 0: none
	gender gender
}

// placeholders are the names that texts may use in braces.
var placeholders = []string{"a", "b", "c", "n", "m", "crop", "word", "other", "field", "who", "at", "slot", "unit", "choices",
	"conflict", "given", "subject"}

const (
	argA = iota + 1
	argB
	argC
	argN
	argM
	argCrop
	argWord
	argOther
	argField
	argWho
	argAt
	argSlot
	argUnit
	argChoices
	argConflict
	argGiven
	argSubject
)

var catalogue = loadAll()

func languageNamed(code string) *language {
	if l := catalogue[code]; l != nil {
		return l
	}
	return catalogue["en"]
}

// loadAll compiles every language. The files are part of the program, so a fault
// in one is a bug and stops it at once.
func loadAll() map[string]*language {
	all := make(map[string]*language)
	english := readFile("en")
	for _, code := range Languages() {
		l, err := compile(code, readFile(code), english)
		if err != nil {
			panic("phrases: " + err.Error())
		}
		all[code] = l
	}
	return all
}

// readFile gives the lines of a language file as key and text.
func readFile(code string) map[string]string {
	data, err := files.ReadFile("lang/" + code + ".txt")
	if err != nil {
		panic("phrases: " + err.Error())
	}
	entries := make(map[string]string)
	for i, line := range strings.Split(string(data), "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		key, value, ok := strings.Cut(line, " = ")
		if _, twice := entries[key]; !ok || twice {
			panic(fmt.Sprintf("phrases: lang/%s.txt line %d: no \"key = text\", or a key twice: %s", code, i+1, line))
		}
		if n := len(value); n > 1 && value[0] == '"' && value[n-1] == '"' {
			value = value[1 : n-1] // quoted to show the blanks at its ends
		}
		entries[key] = value
	}
	return entries
}

// compile builds a language; what it does not have is taken from English, and
// Gaps tells.
func compile(code string, entries, english map[string]string) (*language, error) {
	l := &language{code: code, texts: map[string]map[string]*text{}, units: map[string]unitText{}, words: numberWordsOf[code],
		own: map[string]bool{}}
	for key := range entries {
		l.own[key] = true
	}
	for key, value := range english {
		if _, ok := entries[key]; !ok {
			entries[key] = value
		}
	}
	l.words.percent, l.words.full, l.words.signs = entries["word.percent"], map[string]string{}, map[rune]string{}
	for sign, name := range operators {
		if sign != '-' && sign != '/' { // in a text these two join rather than reckon
			l.words.signs[sign] = entries["op."+name]
		}
	}
	for key, value := range entries {
		if short, ok := strings.CutPrefix(key, "ear."); ok {
			l.words.full[short] = value
		}
	}
	for key, value := range entries {
		if err := l.add(key, value, entries); err != nil {
			return nil, fmt.Errorf("lang/%s.txt: %s: %w", code, key, err)
		}
	}
	l.slot, l.given, l.result = l.bySlot("slot"), l.bySlot("given"), l.bySlot("result")
	return l, nil
}

func (l *language) add(key, value string, entries map[string]string) (err error) {
	section, name, ok := strings.Cut(key, ".")
	switch {
	case !ok:
		return fmt.Errorf("no section")
	case strings.HasSuffix(name, ".spoken"):
		return nil
	case section == "unit", section == "usgal":
		l.units[strings.TrimPrefix(key, "unit.")], err = compileUnit(value)
		return err
	}
	t := &text{}
	if t.shown, err = compileVariants(value, nil); err != nil {
		return err
	}
	if heard, ok := entries[key+".spoken"]; ok {
		value = heard
	}
	if t.heard, err = compileVariants(value, &l.words); err != nil {
		return err
	}
	if l.texts[section] == nil {
		l.texts[section] = map[string]*text{}
	}
	l.texts[section][name] = t
	return nil
}

func (l *language) bySlot(section string) []*text {
	slots := engine.Slots()
	out := make([]*text, len(slots)+1)
	for _, s := range slots {
		out[s] = l.texts[section][s.String()]
	}
	return out
}

// compileVariants reads "one | many". With words, fixed text is put into words.
func compileVariants(value string, words *numberWords) (v variants, err error) {
	one, many, two := strings.Cut(value, " | ")
	if !two {
		many = one
	}
	if v.one, err = compileSegments(one, words); err != nil {
		return v, err
	}
	if v.many, err = compileSegments(many, words); err != nil {
		return v, err
	}
	for _, s := range v.many {
		v.uses |= 1 << s.arg
	}
	return v, nil
}

func compileSegments(value string, words *numberWords) ([]segment, error) {
	var out []segment
	value = strings.ReplaceAll(value, `\n`, "\n")
	for {
		lit, rest, ok := strings.Cut(value, "{")
		if words != nil {
			lit = words.literal(lit, false)
		}
		if !ok {
			return append(out, segment{lit: lit}), nil
		}
		name, after, ok := strings.Cut(rest, "}")
		if !ok {
			return nil, fmt.Errorf("brace not closed")
		}
		s := segment{lit: lit}
		name, s.gender = cutGender(name)
		for i, known := range placeholders {
			if known == name {
				s.arg = byte(i + 1)
			}
		}
		if s.arg == 0 {
			return nil, fmt.Errorf("no placeholder {%s}", name)
		}
		out, value = append(out, s), after
	}
}

// cutGender reads "n:f": the number agrees with a feminine noun after it.
func cutGender(name string) (string, gender) {
	switch base, tail, _ := strings.Cut(name, ":"); tail {
	case "f":
		return base, feminine
	case "m":
		return base, masculine
	default:
		return base, alone
	}
}

// unitText is a unit in a language. Each text holds the number's place as "#".
type unitText struct {
	shown, heard [2]unitForm // singular, plural
	gender       gender
}

type unitForm struct{ before, after string }

// compileUnit reads "shown ; heard singular ; heard plural ; gender". A shown
// form may itself be "one|many"; without "#" the unit follows the number.
func compileUnit(value string) (u unitText, err error) {
	parts := strings.Split(value, " ; ")
	if len(parts) < 3 || len(parts) > 4 {
		return u, fmt.Errorf("a unit is \"shown ; singular ; plural\"")
	}
	one, many, two := strings.Cut(parts[0], "|")
	if !two {
		many = one
	}
	u.shown = [2]unitForm{formOf(one), formOf(many)}
	u.heard = [2]unitForm{formOf(parts[1]), formOf(parts[2])}
	u.gender = masculine
	if len(parts) == 4 {
		_, u.gender = cutGender(":" + parts[3])
	}
	return u, nil
}

func formOf(s string) unitForm {
	if before, after, ok := strings.Cut(s, "#"); ok {
		return unitForm{before, after}
	}
	return unitForm{"", " " + s}
}

func (l *language) unit(u *unit.Unit) *unitText {
	if u == nil {
		return &unitText{}
	}
	t := l.units[u.Symbol]
	return &t
}

// word is the unit alone, as one says it.
func (t *unitText) word(one bool) string {
	f := t.heard[1]
	if one {
		f = t.heard[0]
	}
	return strings.TrimSpace(f.before + f.after)
}
