package parse

import (
	"strings"
)

// near is what stands beside an amount, up to the next amount or a comma.
type near struct {
	left, right         int // nearest unclaimed role, token index; -1
	leftCrop, rightCrop int
	leftNut, rightNut   int
	at                  bool // "at" right before it
	of                  bool // "of" right behind it
}

// look collects the cues around an amount.
func (b *binder) look(q *qty) near {
	n := near{-1, -1, -1, -1, -1, -1, false, false}
	b.walk(q.j, +1, q, &n)
	b.walk(q.i-1, -1, q, &n)
	return n
}

// walk goes from token i in one direction until something parts it from the
// amount. Behind an amount the cue must come sooner, for the next amount may own it.
func (b *binder) walk(i, step int, q *qty, n *near) {
	for steps := 0; i >= 0 && i < len(b.tokens) && steps < 7; i += step {
		t := &b.tokens[i]
		if (t.text == "but" || t.text == "pero") && q.bare() {
			return // "boss says 80 but the bag says 60"
		}
		switch t.class {
		case cSkip, cFiller, cMy, cAbout, cFull, cEach:
			continue
		case cWhatIf:
			if step < 0 && (strings.HasSuffix(t.text, " at") || strings.HasSuffix(t.text, " a")) {
				n.at = true
			}
			continue
		case cOf:
			n.of = n.of || step > 0 && i == q.j
			continue
		case cAt:
			n.at = n.at || step < 0
			continue
		case cRole, cNoun:
			if t.class == cNoun && !roleNoun[t.key] {
				steps++
				continue
			}
			if q.clash == "" && q.per == "" && !exempt[t.key] && !roleTakes(t.key, q.dim()) {
				steps++
				continue
			}
			b.take(i, step, &n.left, &n.right)
		case cCrop, cRyeQ, cCropQ:
			b.take(i, step, &n.leftCrop, &n.rightCrop)
		case cNut, cNutQ, cNutW, cAnalysis:
			b.take(i, step, &n.leftNut, &n.rightNut)
		case cComma, cQuestion, cFix, cNot:
			return
		case cQ:
			if t.key != "is" {
				return
			}
			continue // the tank is 3000, the pump does 1600
		}
		if b.inAmount(i, q) {
			return
		}
		steps++
	}
}

func (b *binder) take(i, step int, left, right *int) {
	side := right
	if step < 0 {
		side = left
	}
	if *side < 0 && !b.claimed[i] {
		*side = i
	}
}

// exempt are role words that the table has no row for: rules of their own read them.
var exempt = map[string]bool{"target": true, "price": true, "depth": true}

// roleNoun are question nouns that also name what a number is.
var roleNoun = map[string]bool{"depth": true}

// inAmount says whether token i belongs to another amount.
func (b *binder) inAmount(i int, q *qty) bool {
	for k := range b.qs {
		if o := &b.qs[k]; o != q && i >= o.i && i < o.j {
			return true
		}
	}
	return false
}

// nearest picks the role word that an amount belongs to: one stuck to it, the
// unclaimed one before it, the one behind it.
func (b *binder) nearest(q *qty, n near) int {
	adjective := n.right >= 0 && b.touching(q.j, n.right)
	if adjective && n.left >= 0 && q.unit == nil && b.weak(n.left) && !b.verb(n.right) && !b.ownedStrongly(n.right, q) && !((b.lang == "es" || b.gateBefore(q)) && b.ownedAhead(n.right, q)) {
		return n.right // "out of a forty eight hundred tank"
	}
	switch {
	case n.left < 0:
		if n.right >= 0 && b.ownedStrongly(n.right, q) {
			return -1
		}
		return n.right
	case n.right < 0:
		return n.left
	case adjective && b.gap(n.left+1, q.i) > 0 && !b.ownedAhead(n.right, q):
		return n.right // "tank … 12 ft tool"
	case adjective && q.unit != nil && !b.ownedAhead(n.right, q):
		return n.right // 3000 gallon tank
	}
	return n.left
}

// gateBefore says whether the gate is named earlier in the clause: "gate lets out 600".
func (b *binder) gateBefore(q *qty) bool {
	for i := q.i - 1; i >= 0 && b.tokens[i].class != cComma && !b.inAmount(i, q); i-- {
		if t := &b.tokens[i]; t.class == cRole && t.key == "gate" {
			return true
		}
	}
	return false
}

// weak says whether a role word before a number gives way to a noun stuck behind it:
// a verb or an adverb, the word that is asked for, or "per load".
func (b *binder) weak(i int) bool {
	if b.verb(i) {
		return true
	}
	for i--; i >= 0; i-- {
		switch p := &b.tokens[i]; p.class {
		case cSkip, cMy:
		case cFiller:
			if p.key == "per" {
				return true
			}
		case cQ:
			return p.key != "is"
		default:
			return false
		}
	}
	return false
}

// verb says whether a role word is a verb or an adverb: running, out, putting on.
func (b *binder) verb(i int) bool {
	t := &b.tokens[i]
	switch t.key {
	case "out", "left", "target", "total", "fill", "drive", "return", "spread", "course", "inc":
		return true
	case "speed":
		return !strings.Contains(t.text, "speed") && !strings.Contains(t.text, "veloc")
	case "rate":
		if !strings.Contains(t.text, "rate") && !strings.Contains(t.text, "dosis") && !strings.Contains(t.text, "tasa") {
			return true
		}
	case "flow":
		if !strings.Contains(t.text, "flow") && !strings.Contains(t.text, "caudal") {
			return true
		}
	}
	return false
}

// touching says whether nothing at all stands from i to j: an adjective's place.
func (b *binder) touching(i, j int) bool {
	for ; i < j; i++ {
		if t := &b.tokens[i]; t.class != cSkip && !(t.text == "-" && t.glued) {
			return false
		}
	}
	return true
}

// gap counts the tokens that mean something from i to j.
func (b *binder) gap(i, j int) int {
	n := 0
	for ; i < j; i++ {
		if c := b.tokens[i].class; c != cSkip && c != cFiller && c != cOf && c != cMy && c != cAbout && !(c == cQ && b.tokens[i].key == "is") {
			n++
		}
	}
	return n
}

// ownedStrongly says whether "is" or "of" ties the role at token i to the amount
// behind it: "im using 600 tank is 3600", "1320 pies con barra de 15 pies".
func (b *binder) ownedStrongly(i int, q *qty) bool {
	tied := false
	for k := i + 1; k < len(b.tokens); k++ {
		switch t := &b.tokens[k]; t.class {
		case cSkip, cFiller:
		case cOf:
			tied = true
		case cQ:
			if t.key != "is" {
				return false
			}
			tied = true
		default:
			for n := range b.qs {
				if o := &b.qs[n]; o != q && o.i == k {
					return tied && roleTakes(b.tokens[i].key, o.whatever()) && (q.unit == nil || !b.touching(q.j, i))
				}
			}
			return false
		}
	}
	return false
}

// ownedAhead says whether the role at token i stands right before another amount
// that it could be about ("tank 3000 gal rate 7000").
func (b *binder) ownedAhead(i int, q *qty) bool {
	for k := range b.qs {
		o := &b.qs[k]
		if o != q && o.i > i && b.gap(i+1, o.i) == 0 {
			return roleTakes(b.tokens[i].key, o.whatever())
		}
	}
	return false
}
