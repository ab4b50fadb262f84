package bot

import (
	"regexp"
	"slices"

	"tankside/engine"
)

// Personal are the values that one person of a group said of the own machine.
type Personal struct {
	Person int64        `json:"person"`
	Facts  []Remembered `json:"facts"`
}

// ownFacts lays a person's own values over the group's, and takes them apart again
// when a message has been decided.
type ownFacts struct {
	on     bool
	person int64
}

// mineWord is how people say that a value is their own.
var mineWord = regexp.MustCompile(`(?i)(^|[^\pL])(my|mine|mi|mis|mío|mía)([^\pL]|$)`)

// lay is the memory as this person has it.
func (o ownFacts) lay(m Memory) Memory {
	mine := o.of(m)
	if len(mine) == 0 {
		return m
	}
	facts := slices.Clone(mine)
	for _, r := range m.Facts {
		if factAt(mine, r) < 0 {
			facts = append(facts, r)
		}
	}
	m.Facts = facts
	return m
}

// part takes the facts of a decided memory apart: what the person said as "my", or
// has an own value of, is the person's; the rest is the group's. before is the
// group's memory, laid what Decide was given.
func (o ownFacts) part(before, laid, after Memory, text string) Memory {
	if !o.on {
		return after
	}
	mine, group := o.of(before), slices.Clone(before.Facts)
	said := mineWord.MatchString(text)
	var own []Remembered
	for _, r := range after.Facts {
		had := factAt(laid.Facts, r)
		fresh := had < 0 || !sameFact(laid.Facts[had], r)
		switch {
		case factAt(mine, r) >= 0, fresh && said:
			own = append(own, r)
		case fresh:
			group = putFact(group, r)
		}
	}
	group = slices.DeleteFunc(group, func(r Remembered) bool {
		return factAt(laid.Facts, r) >= 0 && factAt(after.Facts, r) < 0 && factAt(mine, r) < 0
	})
	after.Facts = group
	after.Own = slices.DeleteFunc(slices.Clone(before.Own), func(p Personal) bool { return p.Person == o.person })
	if len(own) > 0 {
		after.Own = append(after.Own, Personal{Person: o.person, Facts: own})
	}
	return after
}

func (o ownFacts) of(m Memory) []Remembered {
	for _, p := range m.Own {
		if o.on && p.Person == o.person {
			return p.Facts
		}
	}
	return nil
}

// at finds the value of the same quantity.
func factAt(list []Remembered, r Remembered) int {
	return slices.IndexFunc(list, func(o Remembered) bool { return o.Fact.Slot == r.Fact.Slot && o.Fact.Of == r.Fact.Of })
}

func putFact(list []Remembered, r Remembered) []Remembered {
	if i := factAt(list, r); i >= 0 {
		list[i] = r
		return list
	}
	return append(list, r)
}

func sameFact(a, b Remembered) bool {
	return a.When.Equal(b.When) && a.Fact.Min == b.Fact.Min && a.Fact.Max == b.Fact.Max && unitName(a.Fact) == unitName(b.Fact)
}

func unitName(f engine.Fact) string {
	if f.Unit == nil {
		return ""
	}
	return f.Unit.Symbol
}
