package bot

import (
	"maps"
	"slices"
	"strconv"

	"tankside/engine"
	"tankside/parse"
)

// fieldsTold takes fields that were told of by name and size: "on the Nelson place 40
// acres". One is taken in hand; of several, the first, where none was in hand before.
func (t *turn) fieldsTold() bool {
	var told []parse.Act
	for _, a := range t.req.Acts {
		if a.Name == "field_at" {
			told = append(told, a)
		}
	}
	before := t.m.Field
	if len(told) == 1 {
		return t.fieldTold(told[0].Text, t.said.First(engine.Area), before)
	}
	first := int64(0)
	for i, a := range told {
		ground := t.groundOf(a, told[i+1:])
		if f := t.findField(a.Text); f != nil {
			t.m.Field = f.ID
		} else {
			t.openField(a.Text, 0)
		}
		if ground != nil {
			t.setFieldArea(*ground)
		}
		if i == 0 {
			first = t.m.Field
		}
	}
	if t.m.Field = before; before == 0 {
		t.m.Field = first
	}
	t.listFields()
	t.out.Log.Lines = slices.DeleteFunc(t.out.Log.Lines, func(l engine.LogLine) bool {
		return !slices.ContainsFunc(told, func(a parse.Act) bool { return isName(a.Text, l.Field) })
	})
	if len(t.req.Asks) > 0 {
		return t.ofAllFields()
	}
	t.rememberRest()
	t.out.Status = engine.Done
	return true
}

// severalFields says whether more than one field was told of.
func (t *turn) severalFields() bool {
	n := 0
	for _, a := range t.req.Acts {
		if a.Name == "field_at" {
			n++
		}
	}
	return n > 1
}

// ofAllFields lets what was asked with several fields be answered for all of their ground;
// what each takes is listed.
func (t *turn) ofAllFields() bool {
	sum := engine.Fact{Slot: engine.Area, Origin: engine.Derived}
	rest := make(engine.Facts, 0, len(t.said))
	for _, f := range t.said {
		if f.Slot != engine.Area {
			rest = append(rest, f)
			continue
		}
		if sum.Unit == nil {
			sum.Unit = f.Unit
		}
		lo, _ := f.Base()
		sum.Min += sum.Unit.FromBase(lo)
		t.aside = append(t.aside, f)
	}
	sum.Max = sum.Min
	t.said = append(rest, sum)
	t.out.Status, t.out.Act, t.out.Topics = "", "", nil
	t.out.Log.Scope = "fields"
	t.req.Acts = slices.DeleteFunc(slices.Clone(t.req.Acts), func(a parse.Act) bool { return a.Name == "field_at" })
	return false
}

// groundOf is the area that was said behind a field's name and before the next one.
func (t *turn) groundOf(a parse.Act, next []parse.Act) *engine.Fact {
	for i := range t.said {
		if f := &t.said[i]; f.Slot == engine.Area && f.At[0] >= a.At[1] && (len(next) == 0 || f.At[0] < next[0].At[0]) {
			return f
		}
	}
	return nil
}

// fieldTold takes one in hand; what follows from its size is worked out as for any fact.
// Where loads were logged today before any field had a name, whether they belong to it is
// asked.
func (t *turn) fieldTold(name string, ground *engine.Fact, before int64) bool {
	told := t.said.First(engine.LoadCount) != nil
	if len(t.req.Asks) > 0 && ground != nil { // "the mill field is 11.5 ha, how many loads"
		t.goTo(name)
		t.setFieldArea(*ground)
		t.req.Acts = slices.DeleteFunc(slices.Clone(t.req.Acts), func(a parse.Act) bool { return a.Name == "field_at" })
		return false
	}
	if t.findField(name) != nil || told || ground == nil {
		return t.switchField(name) && t.loadsThere()
	}
	if fit := engine.Plausible(ground); fit == engine.TooFar || fit == engine.NotPos {
		return t.newField(name)
	}
	t.openField(name, 0)
	t.setFieldArea(*ground)
	if n := len(t.unplaced()); n > 0 && before == 0 && !t.req.Next {
		t.rememberRest()
		t.topic(engine.TopicLog)
		t.out.Words = []string{strconv.Itoa(n), name}
		return t.ask(engine.CountBefore, Pending{Act: "take_in"})
	}
	t.out.Words = []string{name}
	t.req.Acts = slices.DeleteFunc(slices.Clone(t.req.Acts), func(a parse.Act) bool { return a.Name == "field_at" })
	return false
}

// takenIn: the loads of today that were of no field belong to the one in hand.
func (t *turn) takenIn() bool {
	t.takeIn()
	return t.fieldDone(engine.ActFieldSwitched)
}

// unplaced are the loads of today that are of no field, oldest first; none where they are
// more than the book shows.
func (t *turn) unplaced() []Load {
	loads := slices.DeleteFunc(t.todays(t.book.Recent), func(l Load) bool { return l.Field != 0 })
	if len(loads) == len(t.book.Recent) && t.book.At == 0 && t.book.Field.Count > len(loads) && t.book.Today.Count > len(loads) {
		return nil
	}
	return loads
}

// takeIn counts the loads of today that are of no field in the field in hand.
func (t *turn) takeIn() {
	loads, f := t.unplaced(), t.fieldInHand()
	if len(loads) == 0 || f == nil {
		if n := t.book.Today.Count; t.book.At == 0 && n > 0 && t.book.Field.Count >= n {
			t.note(engine.Note{ID: "loads_elsewhere", Level: engine.Caution, Slot: engine.LoadCount, Value: float64(n)})
		}
		return
	}
	sum := t.book.ByField[f.ID]
	for i := range loads {
		old, with := loads[i], loads[i]
		with.ID, with.Part, with.Replaces = t.msg.ID, i, old.ID
		with.Seq, with.Field, with.FieldName = sum.Count+1, f.ID, f.Name
		sum = sum.Plus(with)
		t.effects = append(t.effects, Effect{Cancel: &old, Why: "corrected"}, Effect{Add: &with})
	}
	if t.book.ByField = maps.Clone(t.book.ByField); t.book.ByField == nil {
		t.book.ByField = make(map[int64]Totals, 1)
	}
	t.book.ByField[f.ID] = sum
	t.note(engine.Note{ID: "loads_taken_in", Level: engine.Advice, Slot: engine.LoadCount, Value: float64(len(loads))})
}
