package bot

import (
	"maps"
	"slices"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
	"tankside/parse"
	"tankside/phrases"
)

// unitSense is one unit that a word can stand for. What names it is the unit itself, one of
// the units beside, or the system it belongs to.
type unitSense struct {
	unit   string
	beside []string
	metric bool
	us     bool
}

// senses are the units that a word without one meaning can stand for, by the parser's
// key of the word; the key "lab" is a lab sheet's numbers without their unit.
var senses = map[string][]unitSense{
	"ton":   {{unit: "ton", beside: []string{"lb"}, us: true}, {unit: "t", beside: []string{"kg"}, metric: true}},
	"t":     {{unit: "ton", beside: []string{"lb"}, us: true}, {unit: "t", beside: []string{"kg"}, metric: true}},
	"m":     {{unit: "m", metric: true}, {unit: "mi", us: true}},
	"g":     {{unit: "gal", us: true}, {unit: "g", metric: true}},
	"units": {{unit: "lb", us: true}, {unit: "kg", metric: true}},
	"lab":   {{unit: "lb/1000gal", beside: []string{"lb", "gal"}}, {unit: "lb/ton", beside: []string{"ton"}}, {unit: "kg/m3", beside: []string{"kg", "m3"}, metric: true}, {unit: "%"}},
}

// askSense offers what a word can stand for.
func (t *turn) askSense(p *engine.Problem) []engine.Choice {
	var out []engine.Choice
	for _, s := range senses[strings.TrimSuffix(second(p.Words), "?")] {
		if lab := p.Code == engine.LabUnit; !lab || s.unit == "%" || s.metric == (t.out.Units.System == unit.Metric) {
			out = append(out, engine.Choice{Unit: unit.Must(s.unit), Word: "sense_" + s.unit})
		}
	}
	return out
}

// sensed takes the answer to that: the chat keeps what the word means, and the message
// that it stood in is read again. Another message leaves the question.
func sensed(msg Message, m Memory) (Message, Memory) {
	p := m.Pending
	req := read(msg, m)
	for _, c := range p.Choices {
		if c.Unit == nil || !namesSense(p.Of, c.Unit.Symbol, req) && !onlyIn(msg.Text, c, p.Choices, orEnglish(m.Lang)) {
			continue
		}
		m.UnitOf = maps.Clone(m.UnitOf)
		if m.UnitOf == nil {
			m.UnitOf = map[string]string{}
		}
		m.UnitOf[p.Of] = c.Unit.Symbol
		msg.Text, m.Pending = p.Text, nil
		return msg, m
	}
	return msg, m
}

// onlyIn says whether every word of an answer stands in the wording of one choice, and not
// all of them in that of another: "metric", "cortas".
func onlyIn(answer string, one engine.Choice, all []engine.Choice, lang string) bool {
	within := func(c engine.Choice) bool {
		wording := strings.Fields(unaccented.Replace(strings.ToLower(phrases.Word(lang, "word."+c.Word))))
		for _, w := range strings.Fields(unaccented.Replace(strings.ToLower(strings.Trim(answer, " .!¡¿?")))) {
			if !slices.Contains(wording, w) {
				return false
			}
		}
		return strings.TrimSpace(answer) != ""
	}
	for _, c := range all {
		if c.Word != one.Word && within(c) {
			return false
		}
	}
	return within(one)
}

var unaccented = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "₂", "2", "³", "3")

// namesSense says whether a message names one sense of a word.
func namesSense(word, symbol string, req *parse.Request) bool {
	if len(req.Facts)+len(req.Asks) > 0 {
		return false
	}
	for _, s := range senses[word] {
		if s.unit != symbol {
			continue
		}
		for _, mention := range req.Mentions {
			if mention.Unit != nil && (mention.Unit.Symbol == symbol || slices.Contains(s.beside, mention.Unit.Symbol)) {
				return true
			}
		}
		for _, a := range req.Acts {
			if a.Name == "units" {
				system := systemNamed(a.Text)
				return s.metric && system == unit.Metric || s.us && system == unit.US
			}
		}
	}
	return false
}

func second(words []string) string {
	if len(words) < 2 {
		return ""
	}
	return words[1]
}
