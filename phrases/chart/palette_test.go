package chart

import (
	"math"
	"testing"

	"github.com/go-analyze/charts"
)

// brightness is a colour's relative luminance, which every kind of colour blindness
// and a grey print keep. Formula of WCAG 2, from memory.
func brightness(c charts.Color) float64 {
	part := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
}

func contrast(a, b charts.Color) float64 {
	x, y := brightness(a)+0.05, brightness(b)+0.05
	return max(x, y) / min(x, y)
}

// What stands side by side can be told apart by brightness alone; letters and lines
// stand out in the sun.
func TestPaletteHoldsWithoutColour(t *testing.T) {
	for _, p := range []struct {
		what  string
		a, b  charts.Color
		least float64
	}{{"letters", ink, paper, 12}, {"letters on bars", paper, deep, 7}, {"letters on bars outside", paper, signal, 4}, {"lines", deep, paper, 7},
		{"the chosen", signal, paper, 4}, {"two lines", deep, signal, 1.9}, {"the band", pale, paper, 1.3}, {"bars over the band", deep, pale, 4},
		{"bars outside over the band", signal, pale, 2.8}, {"the mean over the band", ink, pale, 7}} {
		if got := contrast(p.a, p.b); got < p.least {
			t.Errorf("%s: contrast %.2f, want %.2f", p.what, got, p.least)
		}
	}
}

// No letter is smaller than 22 points.
func TestSmallestLetters(t *testing.T) {
	if min(small, middle, large) < 22 {
		t.Error("too small for a phone at arm's length")
	}
}
