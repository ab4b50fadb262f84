package bot_test

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"tankside/bot"
	"tankside/bot/bottest"
	"tankside/engine"
)

// The conversation rules of the contract, through Handle and a store in memory.
//
// A turn is what is said and what must come of it. Words of a want, in any order:
//
//	answered, asks, done, refused, not_understood   the status
//	topic:load  act:logged  problem:old_fact  missing:area  note:what_if  lang:es
//	area_per_load=0.428571  seed_used(oats)=12      a result, in base units
//	given:tank_volume=3000/remembered               a fact that the answer rests on
//	knows:speed=3  knows:speed=none                 what the chat remembers afterwards
//	unread:7000  says:word                          of the reply; "_" stands for a blank
type said struct{ say, want string }

// talk is a chat with a clock of its own.
type talk struct {
	t     *testing.T
	bot   *bot.Bot
	store *bottest.Store
	chat  int64
	next  int64
	at    time.Time
}

var morning = time.Date(2026, 9, 10, 9, 0, 0, 0, time.UTC)

func newTalk(t *testing.T) *talk {
	store := &bottest.Store{Now: func() time.Time { return morning }}
	return &talk{t: t, bot: bot.New(store), store: store, chat: 1, at: morning}
}

// say sends one message, a minute after the last; "[+26h] text" waits first.
func (k *talk) say(text string) *bot.Reply {
	k.t.Helper()
	if rest, ok := strings.CutPrefix(text, "[+"); ok {
		wait, after, _ := strings.Cut(rest, "] ")
		d, err := time.ParseDuration(wait)
		if err != nil {
			k.t.Fatal(err)
		}
		k.at, text = k.at.Add(d), after
	}
	k.next++
	k.at = k.at.Add(time.Minute)
	r, err := k.bot.Handle(context.Background(), bot.Message{Chat: k.chat, ID: k.next, Person: bot.Person{ID: 7, Name: "Sam"}, Text: text, At: k.at})
	if err != nil {
		k.t.Fatalf("%q: %v", text, err)
	}
	return r
}

func (k *talk) memory() bot.Memory {
	m, _, _, err := k.store.Load(context.Background(), k.chat, 0, k.at)
	if err != nil {
		k.t.Fatal(err)
	}
	return m
}

func (k *talk) rows() (out []bot.Row) {
	if err := k.store.Loads(context.Background(), k.chat, func(r bot.Row) error { out = append(out, r); return nil }); err != nil {
		k.t.Fatal(err)
	}
	return out
}

// run holds a conversation and checks every turn.
func (k *talk) run(turns ...said) {
	k.t.Helper()
	for _, turn := range turns {
		r := k.say(turn.say)
		if bad := k.check(r, turn.want); len(bad) > 0 {
			k.t.Errorf("%q: %s\n\tcame: %s\n\treply: %s", turn.say, strings.Join(bad, "; "), describe(r), strings.ReplaceAll(r.Text, "\n", " / "))
		}
	}
}

func (k *talk) check(r *bot.Reply, want string) (bad []string) {
	o := r.Outcome
	for _, w := range strings.Fields(want) {
		key, arg, _ := strings.Cut(w, ":")
		arg = strings.ReplaceAll(arg, "_", " ")
		ok := false
		switch key {
		case "topic":
			ok = len(o.Topics) > 0 && string(o.Topics[0]) == w[len("topic:"):]
		case "act":
			ok = o.Act == w[len("act:"):]
		case "problem":
			ok = o.Problem == w[len("problem:"):]
		case "missing":
			ok = len(o.Missing) > 0 && o.Missing[0].String() == w[len("missing:"):]
		case "note":
			for _, n := range o.Notes {
				ok = ok || n.ID == w[len("note:"):]
			}
		case "lang":
			ok = r.Lang == arg
		case "unread":
			for _, s := range o.Unread {
				ok = ok || s.Text == arg
			}
		case "says":
			ok = strings.Contains(strings.ToLower(r.Text), strings.ToLower(arg))
		case "given":
			name, origin, _ := strings.Cut(w[len("given:"):], "/")
			ok = hasGiven(o.Given, name, origin)
		case "knows":
			ok = knows(k.memory(), w[len("knows:"):])
		default:
			ok = string(o.Status) == w || strings.Contains(w, "=") && hasValue(o.Results, w)
		}
		if !ok {
			bad = append(bad, "not "+w)
		}
	}
	return bad
}

// named splits "seed_rate(annual_ryegrass)=12".
func named(s string) (slot, of string, value float64, none bool) {
	name, num, _ := strings.Cut(s, "=")
	slot, of, _ = strings.Cut(strings.TrimSuffix(name, ")"), "(")
	value, err := strconv.ParseFloat(num, 64)
	return slot, strings.ReplaceAll(of, "_", " "), value, err != nil
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-5*math.Max(math.Abs(a), 1) }

func hasValue(vs []engine.Value, w string) bool {
	slot, of, value, none := named(w)
	for _, v := range vs {
		if v.Slot.String() == slot && (of == "" || v.Of == of) {
			return !none && near(v.Min, value)
		}
	}
	return none
}

func hasGiven(fs engine.Facts, w, origin string) bool {
	slot, of, value, _ := named(w)
	names := map[engine.Origin]string{engine.Said: "said", engine.Remembered: "remembered", engine.Assumed: "assumed"}
	for i := range fs {
		if lo, _ := fs[i].Base(); fs[i].Slot.String() == slot && (of == "" || fs[i].Of == of) && near(lo, value) && names[fs[i].Origin] == origin {
			return true
		}
	}
	return false
}

func knows(m bot.Memory, w string) bool {
	slot, of, value, none := named(w)
	if slot == "area" {
		for _, f := range m.Fields {
			if f.ID == m.Field && f.Area > 0 {
				return !none && near(f.Area, value)
			}
		}
		return none
	}
	for i := range m.Facts {
		if f := &m.Facts[i].Fact; f.Slot.String() == slot && (of == "" || f.Of == of) {
			lo, _ := f.Base()
			return !none && near(lo, value)
		}
	}
	return none
}

// containsWord says whether a unit stands in a text as a word of its own.
func containsWord(text, word string) bool {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		if w == strings.TrimSpace(word) || w == strings.TrimSpace(word)+"s" {
			return true
		}
	}
	return false
}

func describe(r *bot.Reply) string {
	o := r.Outcome
	s := fmt.Sprintf("%s act:%s problem:%s topics:%v missing:%v lang:%s", o.Status, o.Act, o.Problem, o.Topics, o.Missing, r.Lang)
	for _, v := range o.Results {
		s += fmt.Sprintf(" %s(%s)=%.6g", v.Slot, v.Of, v.Min)
	}
	for i := range o.Given {
		lo, _ := o.Given[i].Base()
		s += fmt.Sprintf(" given:%s(%s)=%.6g/%d", o.Given[i].Slot, o.Given[i].Of, lo, o.Given[i].Origin)
	}
	return s
}
