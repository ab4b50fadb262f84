package chart

import (
	"fmt"

	"github.com/go-analyze/charts"

	"tankside/engine"
)

// mostFields is how many fields have room; the others are counted.
const mostFields = 5

// fields draws how far each field is, the whole width being the whole field.
func (c *canvas) fields(parts []engine.FieldPart) (string, error) {
	w := c.words
	var done, area float64
	for _, p := range parts {
		if p.Area > 0 {
			done, area = done+float64(p.Done), area+float64(p.Area)
		}
	}
	line := c.amount(engine.AreaDone, 0)
	if area > 0 {
		line = fmt.Sprintf(w.fieldDone, c.plain(done), c.amount(engine.Area, area))
	}
	c.header(w.fieldsTitle, line)
	caption := w.fieldsTitle + ": "
	room := (Height - 170 - 40) / min(len(parts), mostFields+1)
	y := 170
	for i, p := range parts {
		if i > 0 {
			caption += "; "
		}
		name := p.Name
		if name == "" {
			name = w.noName
		}
		caption += name + " " + c.fieldText(p) + ", " + w.loadsOf(p.Loads)
		if i < mostFields {
			c.bar(name, p, y, min(room, 128))
			y += min(room, 128)
		}
	}
	if n := len(parts) - mostFields; n > 0 {
		c.text(fmt.Sprintf(w.more, n), margin, y+30, right-margin, style{small, false, ink}, toRight)
	}
	return caption + ".", nil
}

// plain is an area without its unit.
func (c *canvas) plain(acres float64) string { return number(c.in(engine.AreaDone, acres), 2) }

func (c *canvas) fieldText(p engine.FieldPart) string {
	if p.Area <= 0 {
		return fmt.Sprintf(c.words.sizeUnknown, c.amount(engine.AreaDone, float64(p.Done)))
	}
	share := number(100*float64(p.Done)/float64(p.Area), 0) + " %"
	return fmt.Sprintf(c.words.ofField, c.plain(float64(p.Done)), c.amount(engine.Area, float64(p.Area)), share)
}

// bar draws one field: its words above, the bar below them.
func (c *canvas) bar(name string, p engine.FieldPart, y, room int) {
	st := style{small, true, ink}
	told := style{small, false, ink}
	text := c.fieldText(p)
	c.text(text, right, y+30, right-margin-200, told, toLeft)
	c.text(name, margin, y+30, right-margin-30-c.width(text, told), st, toRight)
	top, foot := y+44, y+room-20
	if p.Area <= 0 {
		return
	}
	end := margin + int(min(float64(p.Done)/float64(p.Area), 1)*float64(right-margin))
	c.rect(margin, top, end, foot, deep)
	corners := []charts.Point{{X: margin, Y: top}, {X: right, Y: top}, {X: right, Y: foot}, {X: margin, Y: foot}, {X: margin, Y: top}}
	c.p.LineStroke(corners, ink, 4)
}
