package bot

import (
	"tankside/engine"
	"tankside/parse"
)

// moveLoad puts a logged load into the field that it was spread on: the last one, or the
// one of the number said. "undo" puts it back.
func (t *turn) moveLoad(name string) bool {
	t.topic(engine.TopicLog)
	if len(t.book.Recent) == 0 {
		return t.refuse(engine.NothingToCorrect)
	}
	old, ok := t.loadMeant()
	if !ok {
		return t.noLoad()
	}
	t.goTo(name)
	if t.m.Field == old.Field {
		return t.fieldDone(engine.ActFieldSwitched)
	}
	if a := t.sizeOf(name); a != nil {
		t.setFieldArea(*a)
	}
	f := t.fieldInHand()
	with := old
	with.ID, with.Part, with.Replaces, with.Said = t.msg.ID, 0, old.ID, t.msg.At
	with.Seq, with.Field, with.FieldName = t.fieldTotals().Count+1, f.ID, f.Name
	t.m.Before = &Before{By: with.ID, Load: old}
	t.replace(old, with, "corrected")
	t.out.Act, t.out.Words = engine.ActMoved, []string{f.Name}
	return true
}

// sizeOf is the size of the field that was said with its name.
func (t *turn) sizeOf(name string) *engine.Fact {
	for i, a := range t.req.Acts {
		if a.Name == "field_at" && isName(a.Text, name) {
			return t.groundOf(a, nextFields(t.req.Acts[i+1:]))
		}
	}
	return nil
}

func nextFields(acts []parse.Act) (out []parse.Act) {
	for _, a := range acts {
		if a.Name == "field_at" {
			out = append(out, a)
		}
	}
	return out
}
