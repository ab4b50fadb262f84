package bot

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"

	"tankside/engine"
	"tankside/engine/unit"
)

// AppendJSON appends the answer contract's JSON object for r to dst, without a line
// end. It is written out by hand because a batch asks for it on every line; each
// function below writes one kind of value of the contract.
//
// A number that is not finite is a fault of ours and an error; dst is then returned
// as it came.
func AppendJSON(dst []byte, question string, r *Reply) ([]byte, error) {
	o := r.Outcome
	if o == nil {
		o = &engine.Outcome{Status: engine.NotUnderstood}
	}
	w := jsonWriter{b: dst}
	w.raw(`{"question":`)
	w.text(question)
	w.field("language", orEnglish(r.Lang))
	w.field("status", string(o.Status))
	w.field("topic", string(topicOf(o)))
	w.given(o.Given)
	w.results(o)
	w.slots("missing", o.Missing)
	w.slots("conflict", o.Conflict)
	w.spans("unread", o.Unread)
	w.spans("withdrawn", o.Withdrawn)
	w.cautions(o.Notes)
	w.field("reply", r.Text)
	w.field("spoken", r.Speech())
	w.raw(`}`)
	if w.err != nil {
		return dst, w.err
	}
	return w.b, nil
}

func orEnglish(lang string) string {
	if lang == "" {
		return "en"
	}
	return lang
}

func topicOf(o *engine.Outcome) engine.Topic {
	if len(o.Topics) == 0 {
		return engine.NoTopic
	}
	return o.Topics[0]
}

// jsonWriter writes JSON with a comma before every element but the first.
type jsonWriter struct {
	b   []byte
	err error
}

func (w *jsonWriter) raw(s string) { w.b = append(w.b, s...) }

// field writes a text member; it is never the first of its object.
func (w *jsonWriter) field(name, value string) {
	w.name(name)
	w.text(value)
}

func (w *jsonWriter) name(name string) {
	w.raw(`,"`)
	w.raw(name)
	w.raw(`":`)
}

// list opens an array member and returns what closes it.
func (w *jsonWriter) list(name string) (end func()) {
	w.name(name)
	w.raw("[")
	return func() { w.raw("]") }
}

// next separates the elements of an array.
func (w *jsonWriter) next() {
	if w.b[len(w.b)-1] != '[' {
		w.raw(",")
	}
}

// given writes the values that the answer rests on, as they were said.
func (w *jsonWriter) given(facts engine.Facts) {
	defer w.list("given")()
	for i := range facts {
		f := &facts[i]
		if !isValue(f) {
			continue
		}
		u := f.Unit
		if u == nil {
			u = unit.Must("")
		}
		w.next()
		w.quantity(f.Slot, f.Of, f.Min, f.Max, u)
		w.field("from", f.Origin.String())
		if f.Origin == engine.Said {
			w.at(f.At)
		}
		w.raw("}")
	}
}

// isValue says whether a fact is an amount that was given. A crop or a soil that was
// only named has no number, and what was worked out on the way was not given.
func isValue(f *engine.Fact) bool {
	return f.Origin != engine.Derived && f.Slot != engine.NoSlot && f.Slot != engine.CropSaid && f.Part == ""
}

// results writes the results in the unit asked for, or else in the chat's.
func (w *jsonWriter) results(o *engine.Outcome) {
	defer w.list("results")()
	for i := range o.Results {
		v := &o.Results[i]
		u := v.Unit
		if u == nil {
			u = o.Units.UnitFor(v.Slot)
		}
		w.next()
		w.quantity(v.Slot, v.Of, u.FromBase(v.Min), u.FromBase(v.Max), u)
		if v.Limit {
			w.field("as", "limit")
		}
		w.raw("}")
	}
}

// quantity opens an object: the quantity, what it is of, its value or range, its unit.
func (w *jsonWriter) quantity(s engine.Slot, of string, lo, hi float64, u *unit.Unit) {
	w.raw(`{"quantity":`)
	w.text(s.String())
	if of != "" {
		w.field("of", of)
	}
	if lo == hi {
		w.name("value")
		w.number(s, lo)
	} else {
		w.name("min")
		w.number(s, lo)
		w.name("max")
		w.number(s, hi)
	}
	w.field("unit", u.Symbol)
}

func (w *jsonWriter) at(at [2]int) {
	w.raw(`,"at":[`)
	w.b = strconv.AppendInt(w.b, int64(at[0]), 10)
	w.raw(`,`)
	w.b = strconv.AppendInt(w.b, int64(at[1]), 10)
	w.raw(`]`)
}

// slots writes the names of quantities, each once: two crops may lack the same one.
func (w *jsonWriter) slots(name string, slots []engine.Slot) {
	defer w.list(name)()
	for i, s := range slots {
		if indexOf(slots, s) == i {
			w.next()
			w.text(s.String())
		}
	}
}

func indexOf(slots []engine.Slot, s engine.Slot) int {
	for i := range slots {
		if slots[i] == s {
			return i
		}
	}
	return -1
}

func (w *jsonWriter) spans(name string, spans []engine.Span) {
	defer w.list(name)()
	for _, s := range spans {
		w.next()
		w.raw(`{"text":`)
		w.text(s.Text)
		w.at(s.At)
		w.raw("}")
	}
}

// cautions writes the notes that caution or advise, each once; a note without a
// level only says how a value was read.
func (w *jsonWriter) cautions(notes []engine.Note) {
	defer w.list("cautions")()
	for i := range notes {
		n := &notes[i]
		if n.Level == "" || notedBefore(notes[:i], n.ID) {
			continue
		}
		w.next()
		w.raw(`{"id":`)
		w.text(n.ID)
		w.field("level", string(n.Level))
		w.raw("}")
	}
}

func notedBefore(notes []engine.Note, id string) bool {
	for i := range notes {
		if notes[i].ID == id && notes[i].Level != "" {
			return true
		}
	}
	return false
}

// number writes v as short as it reads back the same.
func (w *jsonWriter) number(s engine.Slot, v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		w.err = fmt.Errorf("%s is %v", s, v)
		return
	}
	form := byte('f')
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e21) {
		form = 'e'
	}
	w.b = strconv.AppendFloat(w.b, v, form, -1, 64)
}

// text writes a JSON string. Bytes that are not UTF-8 become U+FFFD.
func (w *jsonWriter) text(s string) {
	w.b = append(w.b, '"')
	start := 0
	for i := 0; i < len(s); {
		c := s[i]
		if c >= ' ' && c != '"' && c != '\\' && c < utf8.RuneSelf {
			i++
			continue
		}
		if c >= utf8.RuneSelf {
			r, n := utf8.DecodeRuneInString(s[i:])
			if r != utf8.RuneError || n > 1 {
				i += n
				continue
			}
		}
		w.raw(s[start:i])
		w.escape(c)
		i++
		start = i
	}
	w.raw(s[start:])
	w.b = append(w.b, '"')
}

func (w *jsonWriter) escape(c byte) {
	const hex = "0123456789abcdef"
	switch {
	case c == '"' || c == '\\':
		w.b = append(w.b, '\\', c)
	case c == '\n':
		w.raw(`\n`)
	case c == '\r':
		w.raw(`\r`)
	case c == '\t':
		w.raw(`\t`)
	case c < ' ':
		w.raw(`\u00`)
		w.b = append(w.b, hex[c>>4], hex[c&15])
	default:
		w.raw(`\ufffd`)
	}
}
