package parse

import (
	"tankside/engine"
	"tankside/engine/unit"
)

// verdict: "is 12 lb enough for ryegrass", "9000 too heavy?": what is asked of one amount
// is how it stands to what is usual. Trying it sets nothing.
func (b *binder) verdict() {
	if !b.judges() || b.req.Convert != nil {
		return
	}
	if b.req.Marked && len(b.req.Acts) == 1 && b.req.Acts[0].Name == "yes" {
		b.req.Acts = nil
	}
	if len(b.req.Acts) > 0 {
		return
	}
	switch {
	case b.given(engine.ApplicationRate) && len(b.qs) == 1:
		b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicDepth})
	case b.count(engine.SeedRate) == 1 && len(b.qs) == 1:
		b.req.Asks = append(b.req.Asks, Ask{Topic: engine.TopicCrop})
	case b.given(engine.Speed) && len(b.qs) == 1 && len(b.req.Info) == 0:
		b.req.Info = append(b.req.Info, "ground_speed")
	default:
		return
	}
	b.req.WhatIf, b.req.Foreign = true, true
}

// judges says whether the message asks for a yes or no: it opens with "is", or says
// "too much".
func (b *binder) judges() bool {
	if b.has(cNoun, "verdict") {
		return true
	}
	for i := range b.tokens {
		if b.req.Marked && fineWord[b.tokens[i].text] {
			return true // "¿12 libras de ballico está bien?"
		}
	}
	return b.opener() != ""
}

// opener is the word that makes the message a yes or no question, "" when it is none.
func (b *binder) opener() string {
	for i := range b.tokens {
		if t := &b.tokens[i]; t.class != cSkip && t.class != cFiller && t.class != cWhatIf && !(t.class == cAnd && i == 0) {
			if prev := b.at(i - 1).text; t.class == cQ && t.key == "is" && i > 0 && (prev == "this" || prev == "it" || prev == "that" || prev == "here" || prev == "esto" || prev == "este") {
				return "" // "this is 40 acres" tells
			}
			if t.class == cQ && t.key == "is" {
				if b.tells(i) {
					return ""
				}
				return t.text
			}
			return ""
		}
	}
	return ""
}

// tells says whether a verb stands behind its subject, which tells, rather than before it,
// which asks: "ok we are switching to rye 75 lb".
func (b *binder) tells(i int) bool { return subjectWord[b.at(i-1).text] && copula[b.tokens[i].text] }

var subjectWord = map[string]bool{"we": true, "they": true, "you": true, "boss": true, "he": true, "she": true, "guys": true}

// fineWord agrees in a statement and asks for agreement in a question.
var fineWord = map[string]bool{"esta bien": true, "ok": true, "okay": true, "alright": true, "all right": true}

// copula are the openers that ask whether something is so, and never for something to
// be done.
var copula = map[string]bool{"is": true, "are": true, "es": true, "son": true, "esta": true}

// judgedRate: what can be too much, and is no part of a tank or pump, is a rate: "is
// 13000 gal too much for one pass".
func (b *binder) judgedRate(q *qty) bool {
	deep := b.has(cQ, "howdeep") && !b.has(cCrop) && !b.has(cCropQ) && !b.has(cRyeQ)
	if !b.has(cNoun, "verdict") && !deep || b.given(engine.ApplicationRate) || b.has(cRole) || q.min < 1000 && !b.metric || len(b.qs) != 1 {
		return false
	}
	switch {
	case q.bare():
		q.unit = unit.Find(pick(b.metric, pick(q.min >= 1500, "L/ha", "m3/ha"), "gal/acre"))
	case q.dim() == unit.DimVolume:
		q.unit = unit.Find(q.unit.Symbol + "/" + pick(q.unit.System == unit.Metric, "ha", "acre"))
	default:
		return false
	}
	q.implied = true
	b.set(q, engine.ApplicationRate, "", "is 9000 too much")
	return true
}
