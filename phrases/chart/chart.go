// Package chart draws the pictures that go beside an answer: a day's loads, fields,
// a gate's curve, jar counts, mixing in the tank. A picture is looked at on a phone
// in the sun: dark on white, few words, large letters, colours that hold for the
// colour-blind and never carry a meaning alone.
//
// Deliberately not here: what to show and any arithmetic of the job, which come as
// an engine.Picture.
package chart

import (
	"errors"

	"tankside/engine"
)

// Picture is a drawing with the words that go under it. The caption carries the
// numbers, so that nothing is lost to who cannot see it.
type Picture struct {
	PNG     []byte
	Caption string
}

// Width and Height are the size of every picture, in pixels.
const (
	Width  = 1080
	Height = 810
)

var errNothing = errors.New("there is nothing to draw")

// Draw draws what a picture holds, in a language and in a chat's units.
//
// Fails with an engine.Problem where the numbers cannot be drawn, as when a gate has
// no recorded run.
func Draw(lang string, u engine.Units, p *engine.Picture) (*Picture, error) {
	c := &canvas{words: wordsOf(lang), units: u, lang: lang}
	if err := c.begin(); err != nil {
		return nil, err
	}
	caption, err := c.draw(p)
	if err != nil {
		return nil, err
	}
	png, err := c.p.Bytes()
	if err != nil {
		return nil, err
	}
	return &Picture{PNG: png, Caption: caption}, nil
}

// draw returns the caption.
func (c *canvas) draw(p *engine.Picture) (string, error) {
	switch {
	case p == nil:
	case p.Day != nil:
		return c.day(p.Day)
	case len(p.Fields) > 0:
		return c.fields(p.Fields)
	case p.Gate != nil:
		return c.gate(p.Gate)
	case p.Jars != nil:
		return c.jars(p.Jars)
	case p.Tank != nil:
		return c.tank(p.Tank)
	}
	return "", errNothing
}
