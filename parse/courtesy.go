package parse

import (
	"slices"
	"strings"
)

// The acts that take the rest of the clause as a name or a note.
var takesText = map[string]bool{"note": true, "field_new": true, "field_name": true, "field_switch": true, "field_close": true}

// shortWords are acts only when they are all that the message says, or open it.
var shortWords = map[string]bool{"yes": true, "no": true, "thanks": true, "greet": true, "help": true, "same": true, "never_mind": true, "how": true}

// courtesies around something else carry nothing: "ok so …", "hey …", "… thanks".
var courtesies = map[string]bool{"yes": true, "greet": true, "thanks": true}

func (b *binder) courtesy() {
	if b.onlyScratch() {
		b.req.Acts = append(b.req.Acts, Act{Name: "undo", Text: "scratch that", At: b.span(0, len(b.tokens))})
	}
	if t := b.firstWord(); t.class == cAbout && t.text == "como" && len(b.qs) == 0 && (len(b.tokens) == 1 || len(b.tokens) == 2 && b.has(cQuestion)) {
		t.be(cAct, "how") // "¿cómo?"
	}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class == cAct && courtesies[t.key] && !b.alone(i) {
			t.class = cFiller
		}
	}
}

// onlyScratch says whether "scratch that" is all that was said: there is nothing in the
// message for it to take back.
func (b *binder) onlyScratch() bool {
	if len(b.qs) > 0 || len(b.tokens) == 0 {
		return false
	}
	for i := range b.tokens {
		if t := &b.tokens[i]; t.text == "one" || t.text == "una" || t.class != cSkip && t.class != cFiller && !(t.class == cFix && (t.text == "scratch that" || t.text == "strike that")) {
			return false
		}
	}
	return b.has(cFix)
}

// texts finds the acts that a name or a note follows, before any amount is bound:
// numbers inside a name ("north 40") are no amounts.
func (b *binder) texts() {
	for i := range b.tokens {
		t := &b.tokens[i]
		if t.class == cAct && t.key == "log" && noteVerb[t.text] && b.at(i+1).text == ":" && !b.has(cRole, "load") && i == 0 {
			b.note(i) // "apunta: se tapó la válvula"
			return
		}
		if t.class != cAct || !takesText[t.key] || t.used || !b.opensClause(i) {
			continue
		}
		if t.key == "note" {
			if b.loadNoted(i) {
				t.be(cAct, "log")
				continue
			}
			b.note(i)
			return
		}
		b.fieldAct(i)
	}
	b.fieldsStated()
}

// noteVerb write down what stands behind a colon.
var noteVerb = map[string]bool{"apunta": true, "anota": true, "apuntame": true, "anotame": true, "apunte": true, "anote": true, "escribe": true, "record": true, "write down": true}

// opensClause says whether only fillers, short words or a comma stand before token i.
func (b *binder) opensClause(i int) bool {
	for i--; i >= 0; i-- {
		switch t := &b.tokens[i]; t.class {
		case cSkip, cFiller, cMy:
		case cComma, cQuestion:
			return true
		case cAct:
			if !shortWords[t.key] {
				return t.key == "log" || t.key == "done"
			}
		case cTime, cFix, cRole, cNum:
			if t.class == cRole && t.key != "field" {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// loadNoted: "note that load 4 was done at 2:15" logs it.
func (b *binder) loadNoted(i int) bool {
	k := i + 1
	for k < len(b.tokens) && slices.Contains([]class{cFiller, cPer, cSkip}, b.tokens[k].class) {
		k++
	}
	if !b.at(k).oneLoad() || b.at(k+1).class != cOrd && b.at(k+1).class != cNum {
		return false
	}
	for k++; k < len(b.tokens); k++ {
		if t := &b.tokens[k]; t.class == cClock || t.class == cAct && t.key == "done" {
			return true
		}
	}
	return false
}

func (b *binder) note(i int) {
	from := b.origin(b.tokens[i].to)
	text := strings.TrimSpace(strings.TrimLeft(b.raw[from:], " :,-"))
	b.req.Acts = append(b.req.Acts, Act{Name: "note", Text: text, At: b.span(i, len(b.tokens))})
	b.swallow(i, len(b.tokens))
}

// swallow takes tokens i..j out of the reading: they are a name or a note.
func (b *binder) swallow(i, j int) {
	for k := i; k < j; k++ {
		b.tokens[k].class, b.tokens[k].used = cSkip, true
	}
	for k := range b.qs {
		if q := &b.qs[k]; q.i >= i && q.i < j {
			q.done, q.rule = true, "part of a name or note"
		}
	}
}
