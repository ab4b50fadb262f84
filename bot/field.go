package bot

import (
	"strings"

	"tankside/engine"
)

// field starts, names, switches, closes and lists fields.
func (t *turn) field() bool {
	switch {
	case t.act("load_move") != nil:
		return false
	case t.act("field_at") != nil && t.act("log") == nil && (len(t.req.Asks) == 0 || t.severalFields()), t.act("field_at") != nil && len(t.req.Asks) > 0 && t.act("log") == nil:
		return t.fieldsTold()
	case t.act("field_new") != nil:
		return t.newField(t.act("field_new").Text) && t.loadsThere()
	case t.act("field_switch") != nil && t.act("log") == nil:
		return t.switchField(t.act("field_switch").Text) && t.loadsThere()
	case t.act("field_name") != nil:
		return t.nameField(t.act("field_name").Text)
	case t.act("field_close") != nil:
		return t.closeField(t.act("field_close").Text)
	case t.act("field_list") != nil && len(t.said) == 0 && len(t.req.Asks) == 0:
		return t.listFields()
	case t.req.Field != "" && len(t.said) == 0 && len(t.req.Asks) == 0 && len(t.req.Acts) == 0 && len(t.req.Loose) == 0 && !t.req.Question:
		return t.switchField(t.req.Field)
	}
	return false
}

// newField opens a field. A name that is open already is taken in hand instead: it
// goes on with its own counts.
func (t *turn) newField(name string) bool {
	if f := t.findField(name); f != nil && name != "" {
		return t.switchField(name)
	}
	if f := t.said.First(engine.Area); f != nil {
		if fit := engine.Plausible(f); fit == engine.TooFar || fit == engine.NotPos {
			t.topic(engine.TopicSetup)
			t.out.Subject = engine.Area
			return t.refuse(engine.Absurd)
		}
	}
	t.openField(name, 0)
	if f := t.said.First(engine.Area); f != nil {
		t.setFieldArea(*f)
	}
	t.rememberRest()
	return t.fieldDone(engine.ActFieldStarted)
}

// rememberRest keeps the other facts said with a field, and lists what it can do nothing
// with.
func (t *turn) rememberRest() {
	for i := range t.said {
		f := t.said[i]
		switch {
		case f.Slot == engine.Area || f.Slot == engine.LoadCount && !t.req.Question:
		case kept(&f) && engine.Plausible(&f) == engine.Fine:
			t.keep(f)
		default:
			t.out.Unread = append(t.out.Unread, engine.Span{Text: t.msg.Text[f.At[0]:f.At[1]], At: f.At})
		}
	}
}

// loadsThere logs the loads told of with a field that was taken in hand: "field is the
// long strip 15 acres, 5 loads this morning".
func (t *turn) loadsThere() bool {
	if t.out.Status != engine.Done || t.said.First(engine.LoadCount) == nil || t.req.Question {
		return true
	}
	t.out.Results, t.out.Log, t.out.Words = nil, nil, nil
	return t.logLoad(nil)
}

// fieldDone tells of the field in hand.
func (t *turn) fieldDone(act string) bool {
	t.topic(engine.TopicLog)
	t.out.Status, t.out.Act = engine.Done, act
	t.tellLog("field", t.fieldTotals())
	if f := t.fieldInHand(); f != nil {
		t.out.Words = []string{f.Name}
	}
	return true
}

func (t *turn) switchField(name string) bool {
	f := t.findField(name)
	if f == nil && t.said.First(engine.Area) != nil {
		return t.newField(name) // "now to the south field, eight acres"
	}
	if f == nil {
		return t.noField(name)
	}
	t.m.Field = f.ID
	t.rememberRest()
	if a := t.said.First(engine.Area); a != nil {
		t.setFieldArea(*a)
	}
	return t.fieldDone(engine.ActFieldSwitched)
}

// noField asks which of the fields was meant.
func (t *turn) noField(name string) bool {
	t.topic(engine.TopicLog)
	t.out.Words = []string{name}
	for _, o := range t.m.Fields {
		if o.Name != "" && o.Closed.IsZero() && len(t.out.Choices) < 4 {
			t.out.Choices = append(t.out.Choices, engine.Choice{Word: o.Name})
		}
	}
	t.out.Status, t.out.Problem = engine.Asks, engine.NoField
	return true
}

func (t *turn) nameField(name string) bool {
	f := t.fieldInHand()
	if f == nil {
		return t.newField(name)
	}
	f.Name = name
	t.rememberRest()
	if a := t.said.First(engine.Area); a != nil {
		t.setFieldArea(*a)
	}
	return t.fieldDone(engine.ActFieldNamed)
}

// closeField closes the named field or the one in hand; its counts stay in the log.
func (t *turn) closeField(name string) bool {
	f := t.fieldInHand()
	if name != "" {
		f = t.findField(name)
	}
	if f == nil {
		t.topic(engine.TopicLog)
		t.out.Words = []string{name}
		return t.refuse(engine.NoFieldYet)
	}
	t.m.Field = f.ID
	f.Closed = t.msg.At
	t.fieldDone(engine.ActFieldClosed)
	t.m.Field = 0
	return true
}

func (t *turn) listFields() bool {
	t.topic(engine.TopicLog)
	t.out.Status, t.out.Act = engine.Answered, engine.ActFieldsListed
	t.out.Log = &engine.Summary{Scope: "all"}
	for _, f := range t.m.Fields {
		if f.Closed.IsZero() {
			tot := t.book.ByField[f.ID]
			t.out.Log.Lines = append(t.out.Log.Lines, engine.LogLine{Field: f.Name, Area: tot.Area, Volume: tot.Volume, Fraction: tot.Loads, Total: f.Area, Left: t.loadsLeft(f.Area, tot)})
		}
	}
	return true
}

// findField finds a field by its name, or by the only name that starts with the
// words; open fields before closed ones.
func (t *turn) findField(name string) *Field {
	if name == "" {
		return nil
	}
	for i := len(t.m.Fields) - 1; i >= 0; i-- {
		if isName(t.m.Fields[i].Name, name) {
			return &t.m.Fields[i]
		}
	}
	var hit *Field
	for i := range t.m.Fields {
		f := &t.m.Fields[i]
		if f.Closed.IsZero() && strings.HasPrefix(strings.ToLower(f.Name), strings.ToLower(name)) {
			if hit != nil {
				return nil
			}
			hit = f
		}
	}
	return hit
}
