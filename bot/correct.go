package bot

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// undo takes back the newest load that stands, and all that its message logged
// with it; or the one load that was named: by its number, or as the last one.
func (t *turn) undo() bool {
	t.topic(engine.TopicLog)
	if a := t.act("undo"); a.Not {
		t.out.Words = []string{a.Text}
		return t.ask(engine.Negated, Pending{Act: "no"})
	}
	if len(t.book.Recent) == 0 {
		return t.refuse(engine.NothingToUndo)
	}
	last, ok := t.loadMeant()
	if !ok {
		return t.noLoad()
	}
	one := t.req.Ordinal != 0 || t.namesLoad("undo") || last.Replaces != 0
	if b := t.m.Before; b != nil && b.By == last.ID && t.req.Ordinal == 0 && !t.namesLoad("undo") {
		return t.restore(last, b.Load)
	}
	inHand := t.m.Field
	t.m.Field = last.Field
	totals, counted := t.fieldTotals(), t.counted(last.Field)
	first := last
	for i := range t.book.Recent {
		if l := t.book.Recent[i]; l.ID == last.ID && (!one || l.Part == last.Part) {
			t.effects = append(t.effects, Effect{Cancel: &l, Why: "undo"})
			totals = totals.Minus(l)
			if l.Seq < first.Seq {
				first = l
			}
		}
	}
	if counted {
		t.tellLog("field", totals)
	} else { // of a field that is closed: its sums are not at hand, and the one in hand stays
		t.out.Log = &engine.Summary{Scope: "field", Field: last.FieldName}
		t.m.Field = inHand
	}
	t.out.Log.Lines = []engine.LogLine{lineOf(last)}
	if first.Seq < last.Seq {
		t.out.Log.From = first.Seq
	}
	t.out.Status, t.out.Act = engine.Done, engine.ActUndone
	return true
}

// restore takes a correction back: the load is as it was before.
func (t *turn) restore(last, was Load) bool {
	was.ID, was.Part, was.Replaces, was.Said = t.msg.ID, 0, last.ID, t.msg.At
	t.m.Before = nil
	t.replace(last, was, "undo")
	return true
}

// replace puts one load in the place of another and tells of it.
func (t *turn) replace(old, with Load, why string) {
	t.m.Field = with.Field
	t.effects = append(t.effects, Effect{Cancel: &old, Why: why}, Effect{Add: &with})
	sum := t.fieldTotals().Plus(with)
	if old.Field == with.Field {
		sum = sum.Minus(old)
	}
	t.tellLog("field", sum)
	t.out.Log.Lines = []engine.LogLine{lineOf(with)}
	t.out.Log.Seq = with.Seq
	t.out.Status, t.out.Act = engine.Done, engine.ActCorrected
}

// loadMeant is the load that is taken back or put right: the newest that stands, or the
// one of the number said, first in the field in hand. "The last load" is the one with the
// highest number, whichever was put right since.
func (t *turn) loadMeant() (Load, bool) {
	if len(t.book.Recent) == 0 {
		return Load{}, false
	}
	if t.req.Ordinal == 0 {
		last := t.book.Recent[0]
		if t.namesLoad("correct") || t.namesLoad("undo") {
			for _, l := range t.book.Recent {
				if l.Field == last.Field && l.Seq > last.Seq {
					last = l
				}
			}
		}
		return last, true
	}
	named := func(here bool) int {
		return slices.IndexFunc(t.book.Recent, func(l Load) bool { return l.Seq == t.req.Ordinal && (l.Field == t.m.Field || !here) })
	}
	i := named(true)
	if i < 0 {
		i = named(false)
	}
	if i < 0 {
		return Load{}, false
	}
	return t.book.Recent[i], true
}

// partCorrected: "no, fueron dos tercios" right after a load was logged.
func (t *turn) partCorrected() bool {
	numbered := false
	if t.req.Ordinal != 0 && t.act("log") == nil && len(t.req.Asks) == 0 { // "make the second one 2400"
		_, numbered = t.loadMeant()
	}
	if (t.req.Correct || numbered) && len(t.said) == 1 && (t.said[0].Slot == engine.LoadFraction || t.said[0].Slot == engine.LoadVolume) && !t.req.Question && len(t.book.Recent) > 0 {
		return true
	}
	if !t.req.Correct || len(t.said) > 0 || len(t.req.Loose) != 1 || !t.req.Loose[0].Part || t.req.Loose[0].Max >= 1 || t.req.Question || len(t.book.Recent) == 0 {
		return false
	}
	l := t.req.Loose[0]
	t.said, t.req.Loose, t.req.Problem = engine.Facts{{Slot: engine.LoadFraction, Min: l.Min, Max: l.Max, Unit: noUnit, Origin: engine.Said, At: l.At}}, nil, nil
	return true
}

// recount: "no wait that was 2 loads" right after "put down 3 loads" puts the number
// right.
func (t *turn) recount() bool {
	count := t.said.First(engine.LoadCount)
	if !t.req.Correct && t.act("correct") == nil || count == nil || len(t.said) != 1 || t.req.Question || len(t.book.Recent) == 0 || count.Min != math.Trunc(count.Min) || count.Min < 1 {
		return false
	}
	last := t.book.Recent[0]
	var same []Load
	for _, l := range t.book.Recent {
		if l.ID == last.ID {
			same = append(same, l)
		}
	}
	t.topic(engine.TopicLog)
	t.m.Field = last.Field
	n := int(count.Min)
	if reached := t.wasReached(); reached > 0 && n < reached && reached-n <= len(same) {
		n = len(same) - (reached - n) // "fueron 6, no 7", where the seventh was one of the last two
	}
	if reached := t.wasReached(); reached > 0 && n > reached {
		n = len(same) + n - reached // "that was 15, not 14"
	}
	if n > len(same) {
		more := last
		more.ID, more.Replaces, more.When, more.Said = t.msg.ID, 0, t.msg.At, t.msg.At
		t.addLoads(&more, float64(n-len(same)))
		t.out.Status, t.out.Act = engine.Done, engine.ActLogged
		return true
	}
	slices.SortFunc(same, func(a, b Load) int { return a.Seq - b.Seq })
	totals := t.fieldTotals()
	for i := n; i < len(same); i++ {
		t.effects = append(t.effects, Effect{Cancel: &same[i], Why: "corrected"})
		totals = totals.Minus(same[i])
	}
	t.tellLog("field", totals)
	if n == len(same) {
		t.out.Status, t.out.Act = engine.Answered, engine.ActTotals
		return true
	}
	t.out.Log.Lines = []engine.LogLine{lineOf(same[len(same)-1])}
	if len(same)-n > 1 {
		t.out.Log.From = same[n].Seq
	}
	t.out.Status, t.out.Act = engine.Done, engine.ActUndone
	return true
}

// wasReached is the number that is taken back, where it is how many loads the field has:
// "6, not 7". 0 where it is not.
func (t *turn) wasReached() int {
	for _, w := range t.req.Withdrawn {
		if n, err := strconv.Atoi(w.Text); err == nil && n > 0 && n == int(t.fieldTotals().Loads+0.5) {
			return n
		}
	}
	return 0
}

// namesLoad says whether the words of an act name the last load, rather than what was
// done last: "take off the last one" against "undo that".
func (t *turn) namesLoad(act string) bool {
	a := t.act(act)
	return a != nil && slices.ContainsFunc([]string{"last load", "last one", "last trip", "the last", "la ultima", "el ultimo", "ultima carga"}, func(word string) bool { return strings.Contains(a.Text, word) })
}

func (t *turn) noLoad() bool {
	t.out.Words = []string{strconv.Itoa(t.req.Ordinal)}
	return t.refuse(engine.NoLoad)
}

// counted says whether the book holds the sums of a field.
func (t *turn) counted(field int64) bool {
	_, open := t.book.ByField[field]
	return open || t.book.At == field
}

// correct cancels the newest load, or the one named by its number, and puts the right
// one in its place.
func (t *turn) correct() bool {
	t.topic(engine.TopicLog)
	if len(t.book.Recent) == 0 {
		return t.refuse(engine.NothingToCorrect)
	}
	old, ok := t.loadMeant()
	if !ok {
		return t.noLoad()
	}
	if len(t.said) == 0 && t.req.When == nil {
		t.out.Subject = engine.LoadVolume
		return t.ask(engine.WhatValue, Pending{Slot: engine.LoadVolume, Act: "correct"})
	}
	t.m.Field = old.Field
	facts := t.factsOf(&old)
	fixed := t.loadOf(facts)
	if t.said.First(engine.LoadVolume) == nil && t.said.First(engine.LoadFraction) == nil && t.said.First(engine.TankVolume) == nil {
		fixed.Fraction = old.Fraction
	}
	fixed.ID, fixed.Replaces, fixed.Seq, fixed.Field, fixed.FieldName = t.msg.ID, old.ID, old.Seq, old.Field, old.FieldName
	fixed.When, fixed.Said, fixed.Who, fixed.Note = old.When, t.msg.At, t.msg.Person, old.Note
	if at, ok := t.at(); ok && t.req.When != nil {
		fixed.When = at
	}
	if t.doubtful(facts, fixed) {
		t.m.Pending.Act = "correct"
		return true
	}
	t.m.Before = &Before{By: fixed.ID, Load: old}
	t.replace(old, *fixed, "corrected")
	if t.req.When != nil {
		t.out.Log.At = fixed.When.Format("15:04")
	}
	return true
}

// cropCorrected: "actually that was oats, not rye" right after a load names the crop that
// went into it; its weight is the one that was weighed.
func (t *turn) cropCorrected() bool {
	if t.act("correct") == nil || t.req.Question || len(t.said)+len(t.req.Loose)+len(t.req.Asks) > 0 || len(t.book.Recent) == 0 {
		return false
	}
	old, ok := t.loadMeant()
	is := ""
	for _, c := range t.req.Crops {
		if engine.CropNamed(c.Name) == nil || is != "" {
			return false
		}
		is = c.Name
	}
	at := slices.IndexFunc(old.Seeds, func(s Seed) bool { return len(old.Seeds) == 1 || t.dropped(s.Crop) })
	if !ok || is == "" || at < 0 {
		return false
	}
	t.topic(engine.TopicLog)
	with := old
	with.ID, with.Part, with.Replaces, with.Said = t.msg.ID, 0, old.ID, t.msg.At
	with.Seeds = slices.Clone(old.Seeds)
	with.Seeds[at].Crop = is
	t.m.Before = &Before{By: with.ID, Load: old}
	t.replace(old, with, "corrected")
	t.out.Withdrawn = nil // it was used
	return true
}

// remarks says whether nothing is put right: "that was it for today".
func (t *turn) remarks() bool {
	return strings.HasPrefix(t.act("correct").Text, "that was") && len(t.said) == 0 && t.req.When == nil && t.req.Ordinal == 0
}

// factsOf are the facts of a load that is put right: what was said now, then what the load
// itself was logged with. What the chat has learned since has no part in it, but for the
// tank that a part is a part of.
func (t *turn) factsOf(old *Load) engine.Facts {
	facts := slices.Clone(t.said)
	remember := func(s engine.Slot, of string, v float64, symbol string) {
		facts = append(facts, engine.Fact{Slot: s, Of: of, Min: v, Max: v, Unit: unit.Must(symbol), Origin: engine.Remembered})
	}
	switch known := t.merged(t.said); {
	case t.said.First(engine.LoadVolume) != nil, t.said.First(engine.TankVolume) != nil:
	case t.said.First(engine.LoadFraction) != nil:
		for _, s := range [...]engine.Slot{engine.TankVolume, engine.HeelVolume} {
			if f := known.First(s); f != nil {
				facts = append(facts, *f)
			}
		}
	default:
		remember(engine.LoadVolume, "", old.Volume, "gal")
	}
	if t.said.First(engine.ApplicationRate) == nil && old.Rate > 0 {
		remember(engine.ApplicationRate, "", old.Rate, "gal/acre")
	}
	if t.said.First(engine.SeedRate) == nil {
		for _, s := range old.Seeds {
			remember(engine.SeedRate, s.Crop, s.Rate, "lb/acre")
		}
	}
	return facts
}

func lineOf(l Load) engine.LogLine {
	return engine.LogLine{Seq: l.Seq, At: l.When.Format("15:04"), Who: l.Who.Name, Field: l.FieldName, Volume: l.Volume, Area: l.Area, Fraction: l.Fraction, Note: l.Note}
}

// addNote puts a note on the last load: a corrected row, as the log is append-only.
func (t *turn) addNote() bool {
	t.topic(engine.TopicLog)
	if len(t.book.Recent) == 0 {
		return t.refuse(engine.NothingToCorrect)
	}
	old := t.book.Recent[0]
	noted := old
	noted.ID, noted.Part, noted.Replaces, noted.Said, noted.Note = t.msg.ID, 0, old.ID, t.msg.At, t.act("note").Text
	t.effects = append(t.effects, Effect{Cancel: &old, Why: "note"}, Effect{Add: &noted})
	t.out.Status, t.out.Act, t.out.Words = engine.Done, engine.ActNoted, []string{noted.Note}
	return true
}
