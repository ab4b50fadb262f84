package parse

import (
	"slices"
	"strings"
)

// movedLoad reads a load that is put into another field: "that last load went on the creek
// field not the back forty", "actually that one was on the south field", "move load 2 to
// ridge", "la última fue en la loma". Nothing is logged by it.
func (b *binder) movedLoad() bool {
	if b.has(cQuestion) || b.has(cQ, "what", "howmuch", "howmany", "which") || b.countsLoads() {
		return false
	}
	ref := b.loadReferred()
	if ref < 0 {
		return false
	}
	for i := ref; i < len(b.tokens); i++ {
		t := teller{from: i}
		toward := b.tokens[i].text == "to" || b.tokens[i].text == "a" || b.tokens[i].text == "al" || b.tokens[i].text == "para" || strings.HasSuffix(b.tokens[i].text, " on")
		end := b.placeAt(&t, i, len(b.tokens), toward)
		if end == i || t.Field == "" {
			continue
		}
		b.putInField(&t, ref, end)
		return true
	}
	return false
}

// countsLoads says whether the message has numbers other than a load's own and the size
// of ground.
func (b *binder) countsLoads() bool {
	return slices.ContainsFunc(b.qs, func(q qty) bool { return !q.done && q.bare() })
}

// loadReferred is the token behind the words for a load that is in the log and for its
// being somewhere; -1 when there are none.
func (b *binder) loadReferred() int {
	said, verb := false, false
	for i := range b.tokens {
		t := &b.tokens[i]
		switch {
		case moveVerb[t.text] && b.loadSoon(i+1):
			return i + 1
		case t.class == cAct && t.key == "correct" && t.text != "that was", t.text == "that one", t.text == "esa", t.text == "ese",
			t.class == cOrd && (b.at(i-1).key == "load" || b.at(i+1).key == "load"),
			(t.text == "last" || t.text == "ultima" || t.text == "ultimo") && b.loadSoon(i+1):
			said = true
		case t.class == cAct && t.key == "correct", t.text == "it" || t.text == "that": // "no, that was on north"
			said = said || b.req.Correct || b.has(cFix) || b.opensNo() || b.has(cAct, "correct") && b.opensNo()
		}
		verb = verb || oneOf(t.text, beenVerb)
		if said && verb {
			if strings.HasSuffix(t.text, " on") {
				return i // "that last load went on the creek field"
			}
			return i + 1
		}
	}
	return -1
}

// opensNo says whether the message opens with "no", or words that own up to a slip.
func (b *binder) opensNo() bool {
	return b.at(0).text == "no" || strings.HasPrefix(b.text, "my bad") || strings.HasPrefix(b.text, "nope") || strings.HasPrefix(b.text, "wrong") || strings.HasPrefix(b.text, "oops")
}

// loadSoon says whether a word for a load stands at token i or one or two behind.
func (b *binder) loadSoon(i int) bool {
	for k := i; k < len(b.tokens) && k <= i+3; k++ {
		if t := &b.tokens[k]; t.class == cRole && t.key == "load" || t.text == "one" || t.class == cAct && t.key == "log" && strings.HasPrefix(t.text, "load") || t.text == "ultima" {
			return true
		}
	}
	return false
}

var (
	moveVerb = map[string]bool{"move": true, "put": true, "change": true, "switch": true, "mueve": true, "pasa": true, "cambia": true, "pon": true}
	beenVerb = map[string]bool{"was": true, "went": true, "goes": true, "belongs": true, "should": true, "is": true, "fue": true, "era": true, "iba": true, "va": true}
)

// putInField makes the act of it. Words for the field that it was not in go with it.
func (b *binder) putInField(t *teller, ref, end int) {
	b.req.Acts = slices.DeleteFunc(b.req.Acts, func(a Act) bool {
		return a.Name == "log" || a.Name == "correct" || a.Name == "field_switch" || a.Name == "done" || a.Name == "no"
	})
	b.req.Acts = append(b.req.Acts, Act{Name: "load_move", Text: t.Field, At: b.span(0, end)})
	b.req.Field, b.req.Telling = "", false
	for i := range b.tokens[:end] {
		b.tokens[i].used = true
	}
	if b.at(end).class != cNot && b.at(end).text != "no" {
		b.swallow(ref, end)
		return
	}
	for end++; end < len(b.tokens) && (b.placeName(end) || tellPlace[b.at(end).text] || beforePlace[b.at(end).text]); end++ {
		b.tokens[end].used = true
	}
	b.swallow(ref, end)
}
