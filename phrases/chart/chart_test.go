package chart

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"tankside/engine"
	"tankside/engine/unit"
)

var update = flag.Bool("update", false, "write the pictures instead of comparing them")

var morning = time.Date(2026, 9, 14, 7, 6, 0, 0, time.FixedZone("", -5*3600))

// day has a load every so many minutes from seven on.
func day(minutes ...int) []engine.LoadMark {
	var out []engine.LoadMark
	for _, m := range minutes {
		out = append(out, engine.LoadMark{At: morning.Add(time.Duration(m) * time.Minute), Loads: 1})
	}
	return out
}

var (
	metric = engine.Units{System: unit.Metric, Cubes: true}
	half   = engine.LoadMark{At: morning.Add(460 * time.Minute), Loads: 0.5}
	runs   = []engine.Run{{Opening: 2, Flow: 300}, {Opening: 3, Flow: 450}, {Opening: 4, Flow: 620}, {Opening: 6, Flow: 800}}
)

// shown are the pictures that are kept as files and compared.
var shown = []struct {
	name, lang string
	units      engine.Units
	p          engine.Picture
	says       []string // in the caption
}{
	{"day_en", "en", engine.Units{}, engine.Picture{Day: &engine.DaySeries{Field: "north forty", Target: 2.5,
		Loads: append(day(0, 25, 51, 74, 101, 130, 170, 250, 275, 300, 327, 352, 380, 406, 433), half)}},
		[]string{"north forty", "Sep 14", "15.5 loads from 7:06 am to 2:46 pm", "1.9 an hour", "2.5 an hour", "20.2 loads", "4.7 behind"}},
	{"day_es", "es", metric, engine.Picture{Day: &engine.DaySeries{Loads: day(0, 30)}}, []string{"14 sep", "2 cargas de 7:06 am a 7:36 am", "2 por hora"}},
	{"day_long", "en", engine.Units{}, engine.Picture{Day: &engine.DaySeries{Target: 4, Field: "The long narrow field behind the old dairy barn by the creek",
		Loads: day(everyTen(90)...)}}, []string{"90 loads", "2.9 ahead"}},
	{"fields_en", "en", engine.Units{}, engine.Picture{Fields: []engine.FieldPart{{Name: "north forty", Done: 12.43, Area: 40, Loads: 29}, {Name: "creek", Done: 18.2, Area: 18, Loads: 42.5},
		{Name: "home", Area: 7.5}, {Name: "", Done: 3.4, Loads: 8}}}, []string{"north forty 12.43 of 40 acres (31 %), 29 loads", "42.5 loads", "3.4 acres done, size not said"}},
	{"fields_es", "es", metric, engine.Picture{Fields: []engine.FieldPart{{Name: "Potrero de la cañada del arroyo seco, lado norte junto al canal", Done: 11, Area: 30, Loads: 20},
		{Name: "Dos", Done: 2, Area: 9, Loads: 3}, {Name: "Tres", Area: 9}, {Name: "Cuatro", Area: 9}, {Name: "Cinco", Area: 9}, {Name: "Seis", Area: 9}, {Name: "Siete", Area: 9}}},
		[]string{"4.45 de 12.14 hectáreas (37 %)", "Siete"}},
	{"gate_en", "en", engine.Units{}, engine.Picture{Gate: &engine.GateSeries{Runs: runs, Opening: 4.37, Flow: 660}},
		[]string{"Gate 4.37 gives 660 gallons a minute", "2 → 300, 3 → 450, 4 → 620, 6 → 800"}},
	{"gate_one_es", "es", metric, engine.Picture{Gate: &engine.GateSeries{Runs: runs[:1]}}, []string{"2 → 1,136", "litros por minuto"}},
	{"jars_en", "en", engine.Units{}, engine.Picture{Jars: &engine.JarSeries{Counts: []float64{42, 38, 45, 40, 36, 47}}},
		[]string{"No more uneven than chance", "6 jars: 42, 38, 45, 40, 36, 47", "mean 41.3", "chance allows 29 to 54", "All jars are inside"}},
	{"jars_uneven_es", "es", engine.Units{}, engine.Picture{Jars: &engine.JarSeries{Counts: []float64{12, 18, 22, 31, 44, 3, 71}}},
		[]string{"Más disparejo que el azar", "Fuera: 1 (12), 2 (18), 5 (44), 6 (3), 7 (71)"}},
	{"tank_en", "en", engine.Units{}, engine.Picture{Tank: &engine.TankSeries{Tank: 3000, Pump: 1000, Flow: 509}},
		[]string{"Stir 9 min", "Tank of 3,000 gallons, pump 1,000: 509 go out", "491 gallons a minute", "only when 2,880 gallons are out"}},
	{"tank_es", "es", engine.Units{System: unit.Metric}, engine.Picture{Tank: &engine.TankSeries{Tank: 4000, Pump: 1000, Flow: 980, First: 5}},
		[]string{"Mezcle 5 min con la compuerta cerrada: 71 % mezclado.", "15,142 litros", "no se alcanza"}},
}

func everyTen(n int) []int {
	var out []int
	for i := range n {
		out = append(out, 15*i-i/2)
	}
	return out
}

func TestPictures(t *testing.T) {
	for _, p := range shown {
		t.Run(p.name, func(t *testing.T) {
			got, err := Draw(p.lang, p.units, &p.p)
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range p.says {
				if !strings.Contains(got.Caption, want) {
					t.Errorf("the caption lacks %q: %s", want, got.Caption)
				}
			}
			img := decoded(t, got.PNG)
			if s := img.Bounds().Size(); s != image.Pt(Width, Height) {
				t.Errorf("it is %v", s)
			}
			edgeIsEmpty(t, img)
			golden(t, filepath.Join("..", "..", "testdata", "charts", p.name+"_golden.png"), got.PNG, img)
		})
	}
}

// decoded is a picture as plain pixels.
func decoded(t *testing.T, raw []byte) *image.RGBA {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	plain := image.NewRGBA(img.Bounds())
	draw.Draw(plain, plain.Bounds(), img, image.Point{}, draw.Src)
	return plain
}

// edgeIsEmpty finds what runs out of the picture: below the title's band nothing
// may touch its edge.
func edgeIsEmpty(t *testing.T, img *image.RGBA) {
	t.Helper()
	white := color.RGBA{0xff, 0xff, 0xff, 0xff}
	for y := band + 8; y < Height; y++ {
		for _, x := range []int{0, 1, Width - 2, Width - 1} {
			if img.RGBAAt(x, y) != white {
				t.Fatalf("something is cut at %d, %d", x, y)
			}
		}
	}
	for x := range Width {
		if img.RGBAAt(x, Height-1) != white {
			t.Fatalf("something is cut at the foot, %d", x)
		}
	}
}

// golden compares with the kept picture: letters may fall a shade differently on
// another machine, but no more than one pixel in 500 may differ by a third.
func golden(t *testing.T, path string, raw []byte, img *image.RGBA) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, raw, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := differing(img, decoded(t, file)); n > Width*Height/500 {
		t.Errorf("%d pixels differ from %s; look at it, then -update", n, path)
	}
}

func differing(a, b *image.RGBA) (n int) {
	const third = 0xff / 3
	if a.Bounds() != b.Bounds() {
		return Width * Height
	}
	for i := 0; i < len(a.Pix); i += 4 {
		for j := i; j < i+3; j++ {
			if d := int(a.Pix[j]) - int(b.Pix[j]); d > third || d < -third {
				n++
				break
			}
		}
	}
	return n
}

// The comparison sees a moved point and does not see a shade.
func TestGoldenTolerance(t *testing.T) {
	pic := func(runs []engine.Run) *image.RGBA {
		p, err := Draw("en", engine.Units{}, &engine.Picture{Gate: &engine.GateSeries{Runs: runs}})
		if err != nil {
			t.Fatal(err)
		}
		return decoded(t, p.PNG)
	}
	moved := append([]engine.Run{}, runs...)
	moved[1].Flow = 540
	if n := differing(pic(runs), pic(moved)); n <= Width*Height/500 {
		t.Errorf("a moved run changes only %d pixels", n)
	}
	if n := differing(pic(runs), pic(runs)); n != 0 {
		t.Errorf("the same picture differs in %d pixels", n)
	}
}

func TestNothingToDraw(t *testing.T) {
	for name, p := range map[string]*engine.Picture{"nil": nil, "empty": {}, "no loads": {Day: &engine.DaySeries{}}, "no runs": {Gate: &engine.GateSeries{}},
		"two jars": {Jars: &engine.JarSeries{Counts: []float64{1, 2}}}, "no seed": {Jars: &engine.JarSeries{Counts: []float64{0, 0, 0}}},
		"more out than pumped": {Tank: &engine.TankSeries{Tank: 3000, Pump: 100, Flow: 200}}, "no tank": {Tank: &engine.TankSeries{}}} {
		if got, err := Draw("en", engine.Units{}, p); err == nil {
			t.Errorf("%s is drawn: %s", name, got.Caption)
		}
	}
}

// Whatever people call a field, it is drawn: odd letters as question marks.
func TestOddNames(t *testing.T) {
	if got := drawable("Ñandú 北 40 😀…"); got != "Ñandú ? 40 ?…" {
		t.Errorf("got %q", got)
	}
	p := &engine.Picture{Fields: []engine.FieldPart{{Name: strings.Repeat("W", 300), Area: 1e9, Done: 1e9}}}
	got, err := Draw("en", engine.Units{}, p)
	if err != nil {
		t.Fatal(err)
	}
	edgeIsEmpty(t, decoded(t, got.PNG))
}

func TestScale(t *testing.T) {
	for _, s := range []struct{ v, end, step float64 }{{15.5, 20, 5}, {20.2, 25, 5}, {800, 800, 200}, {6, 6, 1}, {0, 1, 1}, {0.3, 0.3, 0.05}, {3000, 3000, 500}, {101, 120, 20}, {math.Inf(1), 1, 1}, {math.NaN(), 1, 1}, {5e-324, 1, 1}} {
		if got := scaleFor(s.v, 6); math.Abs(got.end-s.end) > 1e-9 || got.step != s.step {
			t.Errorf("up to %g: %v", s.v, got)
		}
	}
}

func TestNumber(t *testing.T) {
	for _, n := range []struct {
		v    float64
		d    int
		want string
	}{{1234567.8, 0, "1,234,568"}, {0.4286, 2, "0.43"}, {100, 2, "100"}, {-1.26, 1, "−1.3"}, {-0.01, 1, "0"}, {999.96, 1, "1,000"}} {
		if got := number(n.v, n.d); got != n.want {
			t.Errorf("%g to %d: %q, want %q", n.v, n.d, got, n.want)
		}
	}
}

// Every language says everything that English says.
func TestWordsComplete(t *testing.T) {
	for _, p := range shown {
		for _, lang := range []string{"en", "es"} {
			got, err := Draw(lang, p.units, &p.p)
			if err != nil {
				t.Fatal(err)
			}
			if strings.Contains(got.Caption, "%!") || got.Caption == "" {
				t.Errorf("%s in %s: %q", p.name, lang, got.Caption)
			}
		}
	}
}

func TestManyAtOnce(t *testing.T) {
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			if _, err := Draw("en", engine.Units{}, &shown[0].p); err != nil {
				t.Error(err)
			}
		})
	}
	wait.Wait()
}
