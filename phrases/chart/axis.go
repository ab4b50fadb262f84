package chart

import (
	"math"

	"github.com/go-analyze/charts"
)

// frame is the part of a picture that has axes. Its y axis starts at zero, always.
type frame struct {
	c          *canvas
	left, top  int
	foot       int
	x0, x1, y1 float64
}

// scale is the round end of an axis and the step between its marks.
type scale struct{ end, step float64 }

// scaleFor ends an axis at a round number at or above v, in at most so many steps.
func scaleFor(v float64, most int) scale {
	if !(v > 1e-9 && v < 1e15) { // nothing of the job is that small or large
		return scale{1, 1}
	}
	for size := math.Pow(10, math.Floor(math.Log10(v))-1); ; size *= 10 {
		for _, by := range [...]float64{1, 2, 5} {
			step := size * by
			if n := math.Ceil(v/step - 1e-9); n <= float64(most) {
				return scale{n * step, step}
			}
		}
	}
}

// whole keeps marks that count things from falling between two of them.
func (s scale) whole() scale {
	if s.step >= 1 {
		return s
	}
	return scale{math.Ceil(s.end), 1}
}

// axes draws the frame: marks to the left with lines across, marks below, and what
// is measured over and under them.
func (c *canvas) axes(yTitle, xTitle string, y scale, x0, x1 float64, xMarks []mark, yMark func(float64) string) *frame {
	tick := style{small, false, ink}
	widest := 0
	for i := 0; float64(i)*y.step <= y.end*(1+1e-9); i++ {
		widest = max(widest, c.width(yMark(float64(i)*y.step), tick))
	}
	f := &frame{c: c, left: margin + widest + 16, top: 262, foot: 704, x0: x0, x1: x1, y1: y.end}
	c.text(yTitle, margin, 236, right-margin, tick, toRight)
	for i := 0; float64(i)*y.step <= y.end*(1+1e-9); i++ {
		v := float64(i) * y.step
		py := f.y(v)
		c.p.LineStroke([]charts.Point{{X: f.left, Y: py}, {X: right, Y: py}}, faint, 2)
		c.text(yMark(v), f.left-14, py+10, f.left, tick, toLeft)
	}
	for _, m := range xMarks {
		px := f.x(m.at)
		c.p.LineStroke([]charts.Point{{X: px, Y: f.foot}, {X: px, Y: f.foot + 10}}, ink, 3)
		c.text(m.text, px, f.foot+42, 400, tick, centred)
	}
	c.p.LineStroke([]charts.Point{{X: f.left, Y: f.top}, {X: f.left, Y: f.foot}, {X: right, Y: f.foot}}, ink, 3)
	c.text(xTitle, (f.left+right)/2, f.foot+86, right-f.left, tick, centred)
	return f
}

// mark is a place on the axis below, with its words.
type mark struct {
	at   float64
	text string
}

// marks are those of a scale from zero.
func (s scale) marks(text func(float64) string) []mark {
	var out []mark
	for i := 0; float64(i)*s.step <= s.end*(1+1e-9); i++ {
		v := float64(i) * s.step
		out = append(out, mark{v, text(v)})
	}
	return out
}

func (f *frame) x(v float64) int {
	return f.left + int(math.Round((v-f.x0)/(f.x1-f.x0)*float64(right-12-f.left)))
}

func (f *frame) y(v float64) int {
	return f.foot - int(math.Round(v/f.y1*float64(f.foot-f.top)))
}

func (f *frame) at(x, y float64) charts.Point { return charts.Point{X: f.x(x), Y: f.y(y)} }
