package telegram

import (
	"strconv"
	"strings"

	"tankside/bot"
	"tankside/engine"
	"tankside/phrases"
)

// pressed marks the data of our buttons.
const pressed = "b"

// keys are the buttons under an answer: what it offers to say next, then a button
// that shares it. One row, so that each is as wide as it can be.
func (j *job) keys(p *place, d *bot.Dealt, question string) (*keyboard, error) {
	row, err := j.offer(p.chat, d.Buttons)
	if err != nil {
		return nil, err
	}
	if q := shared(d, question); q != "" && len(row) < 3 {
		row = append(row, key{Text: capital(phrases.Word(d.Lang, "telegram.share")), Share: &q})
	}
	if len(row) == 0 {
		return nil, nil
	}
	return &keyboard{Rows: [][]key{row}}, nil
}

func (j *job) offer(chat int64, buttons []bot.Button) ([]key, error) {
	if len(buttons) == 0 {
		return nil, nil
	}
	id, err := j.tx.Offer(chat, buttons)
	if err != nil {
		return nil, err
	}
	row := make([]key, len(buttons))
	for i, b := range buttons {
		row[i] = key{Text: short(capital(b.Label), 30), Data: pressed + strconv.FormatInt(id, 36) + "." + strconv.Itoa(i)}
	}
	return row, nil
}

func capital(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// longestQuery is the server's limit for an inline query.
const longestQuery = 256

// shared is the question that gives the same answer to anybody: with the values that
// this chat remembers put in. Empty: not an answer to share.
func shared(d *bot.Dealt, question string) string {
	o := d.Outcome
	if o.Status != engine.Answered || o.Act != "" || len(o.Info) > 0 || len(o.Results) == 0 || strings.HasPrefix(question, "/") {
		return ""
	}
	q := bot.Standalone(question, o)
	if units(q) > longestQuery {
		return ""
	}
	return q
}
