package bot

import (
	"slices"
	"strconv"
	"strings"

	"tankside/engine"
	"tankside/phrases"
)

// mostButtons is how many fit one row under a gloved thumb.
const mostButtons = 3

// ButtonsFor are the next messages that an outcome offers with one press: the
// choices of a question, yes and no, the load just worked out, undo, the fields.
func ButtonsFor(lang string, o *engine.Outcome) []Button {
	word := func(key string) Button { w := phrases.Word(lang, key); return Button{Label: w, Say: w} }
	switch {
	case o.Problem == engine.ConfirmUnusual, o.Problem == engine.OldFact, o.Problem == engine.ConfirmClear, o.Problem == engine.ConfirmForget, o.Problem == engine.ConfirmHeard:
		return []Button{word("word.yes"), word("word.no")}
	case o.Status == engine.Asks && len(o.Choices) > 0 && len(o.Choices) <= mostButtons+1:
		return choiceButtons(lang, o.Choices)
	case o.Act == engine.ActLogged: // the next load is one press away
		return []Button{word("word.log"), word("word.half"), word("word.undo")}
	case o.Act == engine.ActCorrected, o.Act == engine.ActMoved:
		return []Button{word("word.undo")}
	case o.Act == engine.ActFieldsListed && o.Log != nil:
		return fieldButtons(lang, o.Log.Lines)
	case offersLoad(o):
		return loadButtons(lang, o, word)
	}
	return nil
}

// choiceButtons name each reading by what tells it apart: its crop, its word, or its
// amount with its unit. None, if one of them could not be said in a word.
func choiceButtons(lang string, choices []engine.Choice) []Button {
	var out []Button
	for i := range choices {
		c := &choices[i]
		say := ""
		switch {
		case c.Of != "" && (c.Unit == nil || c.Slot == engine.CropSaid):
			say = phrases.CropWord(lang, c.Of)
		case c.Unit != nil && c.Unit.Symbol != "" && c.Min == c.Max:
			say = plainNumber(c.Min) + " " + c.Unit.Symbol
			if c.Slot == engine.TankVolume {
				say += " " + phrases.Word(lang, "slot.tank_volume") // gallons alone could be the rate as well
			}
		case c.Slot == engine.NoSlot && c.Word != "":
			say = c.Word
		default:
			return nil
		}
		if slices.ContainsFunc(out, func(b Button) bool { return b.Say == say }) {
			return nil
		}
		out = append(out, Button{Label: say, Say: say})
	}
	return out
}

func fieldButtons(lang string, lines []engine.LogLine) []Button {
	var out []Button
	for _, l := range lines {
		if l.Field != "" && len(out) < mostButtons {
			say, _ := phrases.Line(lang, "telegram.say_field", phrases.Fill{Word: l.Field})
			out = append(out, Button{Label: l.Field, Say: say})
		}
	}
	return out
}

// offersLoad says whether an answer is about a load that can be logged as it is:
// worked out with values that the chat remembers.
func offersLoad(o *engine.Outcome) bool {
	if o.Status != engine.Answered || len(o.Topics) == 0 || o.Topics[0] != engine.TopicLoad && o.Topics[0] != engine.TopicPartLoad {
		return false
	}
	area := slices.IndexFunc(o.Results, func(v engine.Value) bool { return v.Slot == engine.AreaPerLoad && v.Min == v.Max })
	whatIf := slices.ContainsFunc(o.Notes, func(n engine.Note) bool { return n.ID == "what_if" })
	return area >= 0 && (!whatIf || partLoad(o) != "")
}

// partLoad is the part load of an answer, as one would say it.
func partLoad(o *engine.Outcome) string {
	if f := o.Given.First(engine.LoadFraction); f != nil && f.Origin == engine.Said && !f.Range() {
		return plainNumber(f.Min)
	}
	if f := o.Given.First(engine.LoadVolume); f != nil && f.Origin == engine.Said && !f.Range() {
		return plainNumber(f.Min) + " " + f.Unit.Symbol
	}
	return ""
}

func loadButtons(lang string, o *engine.Outcome, word func(string) Button) []Button {
	log, half := word("word.log"), word("word.half")
	if p := partLoad(o); p != "" {
		what := "telegram.say_log_part"
		if strings.Contains(p, " ") {
			what = "telegram.say_log_volume"
		}
		log.Say, _ = phrases.Line(lang, what, phrases.Fill{Word: p})
		return []Button{log}
	}
	return []Button{log, half}
}

func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Card is the answer to a question that changes nothing, for a card in another chat;
// nil when the message is not such a question.
func Card(msg Message, m Memory, book Book) *Reply {
	m.Warned = msg.At.Format("2006-01-02") // a card is read by others, later
	d := Decide(msg, m, book)
	if d.Outcome.Status != engine.Answered || len(d.Effects) > 0 || d.Outcome.Act != "" {
		if d.Outcome.Act != engine.ActRemembered || len(d.Outcome.Results) == 0 {
			return nil
		}
	}
	return Say(d)
}

// Standalone is a question with the values put in that its answer took from memory,
// so that it gives the same answer to anybody. It is the question itself when there
// are none, or when the values cannot be said in a way that reads back the same.
func Standalone(question string, o *engine.Outcome) string {
	question = strings.TrimSpace(question)
	out := question
	for i := range o.Given {
		f := &o.Given[i]
		if f.Origin != engine.Remembered || f.Unit == nil || f.Unit.Symbol == "" {
			continue
		}
		amount := plainNumber(f.Min)
		if f.Range() {
			amount += "-" + plainNumber(f.Max)
		}
		amount += " " + f.Unit.Symbol
		switch {
		case f.Of != "":
			amount += " " + f.Of
		case f.Slot != engine.ApplicationRate:
			amount += " " + phrases.Word("en", "slot."+f.Slot.String())
		}
		out += ", " + amount
	}
	if out == question || !sameResults(Decide(Message{Text: out}, Memory{}, Book{}).Outcome, o) {
		return question
	}
	return out
}

func sameResults(a, b *engine.Outcome) bool {
	for i := range b.Results {
		want := &b.Results[i]
		if !slices.ContainsFunc(a.Results, func(v engine.Value) bool {
			return v.Slot == want.Slot && v.Of == want.Of && v.Min == want.Min && v.Max == want.Max
		}) {
			return false
		}
	}
	return true
}
