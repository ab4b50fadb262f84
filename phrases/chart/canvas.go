package chart

import (
	"errors"
	"sync"

	"github.com/go-analyze/charts"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"tankside/engine"
)

// The palette: two dark hues that stay apart for every kind of colour blindness and
// in grey, one light tint of the first, and ink.
var (
	ink    = charts.ColorRGB(0x14, 0x18, 0x1b)
	paper  = charts.ColorRGB(0xff, 0xff, 0xff)
	faint  = charts.ColorRGB(0xd5, 0xda, 0xdd)
	deep   = charts.ColorRGB(0x0b, 0x4a, 0x7d)
	pale   = charts.ColorRGB(0xc4, 0xdb, 0xec)
	signal = charts.ColorRGB(0xcf, 0x4d, 0x05)
)

// Sizes of letters, in points at 92 to the inch. Nothing is smaller than small.
const (
	small  = 22.0
	middle = 26.0
	large  = 30.0
)

// Where things are, in pixels.
const (
	margin     = 40
	band       = 84 // the dark band with the title
	headline   = 138
	legendLine = 186
	right      = Width - margin
)

// canvas is one picture on its way.
type canvas struct {
	p     *charts.Painter
	words *words
	lang  string
	units engine.Units
}

const (
	regularName = "tankside-regular"
	boldName    = "tankside-bold"
)

// fonts installs the letters once; the library keeps them by name.
var fonts = sync.OnceValue(func() error {
	return errors.Join(charts.InstallFont(regularName, goregular.TTF), charts.InstallFont(boldName, gobold.TTF))
})

// covered says which characters there are letters for.
var covered = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(gobold.TTF) })

func (c *canvas) begin() error {
	if err := fonts(); err != nil {
		return err
	}
	c.p = charts.NewPainter(charts.PainterOptions{OutputFormat: charts.ChartOutputPNG, Width: Width, Height: Height, Font: charts.GetFont(regularName)})
	c.rect(0, 0, Width, Height, paper)
	return nil
}

func (c *canvas) rect(x1, y1, x2, y2 int, fill charts.Color) {
	c.p.FilledRect(x1, y1, x2, y2, fill, fill, 0)
}

// style is how letters look.
type style struct {
	size  float64
	bold  bool
	color charts.Color
}

func (s style) font() charts.FontStyle {
	f := charts.FontStyle{FontSize: s.size, FontColor: s.color, Font: charts.GetFont(regularName)}
	if s.bold {
		f.Font = charts.GetFont(boldName)
	}
	return f
}

func (c *canvas) width(text string, s style) int { return c.p.MeasureText(text, 0, s.font()).Width() }

// align is where text stands against its point.
type align int

const (
	toRight align = iota // starts at the point
	centred
	toLeft // ends at the point
)

// text writes one line, with its foot at y, and keeps it within room pixels: first
// by smaller letters, then by leaving the end out, which is shown.
func (c *canvas) text(text string, x, y, room int, s style, a align) {
	text, s = c.fit(text, room, s)
	w := c.width(text, s)
	switch a {
	case centred:
		x -= w / 2
	case toLeft:
		x -= w
	}
	c.p.Text(text, min(max(x, 4), Width-4-w), y, 0, s.font())
}

func (c *canvas) fit(text string, room int, s style) (string, style) {
	text = drawable(text)
	for s.size > small && c.width(text, s) > room {
		s.size--
	}
	if c.width(text, s) <= room {
		return text, s
	}
	runes := []rune(text)
	for len(runes) > 0 && c.width(string(runes)+"…", s) > room {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…", s
}

// drawable puts a question mark where there is no letter.
func drawable(text string) string {
	f, err := covered()
	if err != nil {
		return text
	}
	var room sfnt.Buffer
	out := make([]rune, 0, len(text))
	for _, r := range text {
		if i, err := f.GlyphIndex(&room, r); err != nil || i == 0 {
			r = '?'
		}
		out = append(out, r)
	}
	return string(out)
}

// header writes the title in its band and what the picture comes to below it.
func (c *canvas) header(title, line string) {
	c.rect(0, 0, Width, band, ink)
	c.rect(0, band, Width, band+6, signal)
	c.text(title, margin, 57, right-margin, style{large, true, paper}, toRight)
	c.text(line, margin, headline, right-margin, style{middle, true, ink}, toRight)
}

// sign is how a line or an area is told in the legend.
type sign struct {
	text   string
	color  charts.Color
	dashed bool
	area   bool
	dot    bool
}

const (
	swatch = 44 // the piece of line or area before its words
	apart  = 36 // between two signs
)

// legend writes the signs in one row. Where they are too long for it, each is
// shortened to its share.
func (c *canvas) legend(signs ...sign) {
	st := style{small, false, ink}
	room := right - margin - len(signs)*(swatch+12) - (len(signs)-1)*apart
	most, all := room, 0
	for _, s := range signs {
		all += c.width(s.text, st)
	}
	if all > room {
		most = room / len(signs)
	}
	x := margin
	for _, s := range signs {
		c.swatch(s, x)
		x += swatch + 12
		text, _ := c.fit(s.text, most, st)
		c.text(text, x, legendLine, most, st, toRight)
		x += c.width(text, st) + apart
	}
}

func (c *canvas) swatch(s sign, x int) {
	y := legendLine - 10
	switch {
	case s.area:
		c.rect(x, y-12, x+swatch, y+12, s.color)
	case s.dot:
		c.p.Circle(11, x+swatch/2, y, s.color, s.color, 1)
	default:
		c.line([]charts.Point{{X: x, Y: y}, {X: x + swatch, Y: y}}, s)
	}
}

func (c *canvas) line(points []charts.Point, s sign) {
	const thick = 6
	if s.dashed {
		c.p.DashedLineStroke(points, s.color, thick, []float64{18, 12})
		return
	}
	c.p.LineStroke(points, s.color, thick)
}

// dot is a mark that stands out from a line through it.
func (c *canvas) dot(x, y int, color charts.Color) { c.p.Circle(10, x, y, color, paper, 3) }

// diamond is the mark of what was chosen.
func (c *canvas) diamond(x, y int) { c.p.FilledDiamond(x, y, 40, 40, signal, paper, 4) }
