package engine

import (
	"slices"
	"strconv"
	"strings"

	"tankside/engine/unit"
)

// DefaultScheme is the availability scheme used when the chat has not chosen one.
// It is always named with the answer. It takes ammonium and organic nitrogen
// apart, so it needs no kind of manure.
const DefaultScheme = "cornell"

// The ways slurry goes on, as the schemes tell them apart.
const (
	MethodSurface      = "surface"      // left on top
	MethodIncorporated = "incorporated" // worked in, after so many hours
	MethodInjected     = "injected"
	MethodKnife        = "knife" // injected with knives or coulters
	MethodSlots        = "slots" // into tine slots: no source; between worked in and left on top
)

// Methods lists the ways slurry goes on.
func Methods() []string {
	return []string{MethodSurface, MethodIncorporated, MethodInjected, MethodKnife, MethodSlots}
}

// share is one line of availability.csv.
type share struct {
	scheme, class, method string
	from, to              float64 // hours; to 0: no end
	Shares
}

var shares = readShares()

func readShares() []share {
	var out []share
	for _, r := range readTable("availability.csv") {
		s := share{scheme: r.text("scheme"), class: r.text("class"), method: r.text("method")}
		s.from, _ = r.number("hours_from")
		s.to, _ = r.number("hours_to")
		total, whole := r.number("total")
		kept, ok := r.number("kept")
		if !ok {
			kept = 1
		}
		ammonium, _ := r.number("ammonium")
		organic, _ := r.number("organic")
		s.Shares = Shares{s.scheme, whole, unit.Fraction(total), unit.Fraction(kept), unit.Fraction(ammonium), unit.Fraction(organic), r.cite("source")}
		out = append(out, s)
	}
	return out
}

// Schemes lists the nitrogen availability schemes that can be chosen.
func Schemes() []string {
	var out []string
	for _, s := range shares {
		if !slices.Contains(out, s.scheme) {
			out = append(out, s.scheme)
		}
	}
	return out
}

// SharesFor returns a scheme's shares for a class of manure ("dairy", "swine",
// "beef", "poultry"), a method, and the hours until it is worked in. ok is false
// where the scheme says nothing. "own:0.7:0.3" is a scheme set by hand: the kept
// share of the ammonium and the mineralised share of the organic nitrogen.
func SharesFor(scheme, class, method string, hours float64) (Shares, bool) {
	if strings.HasPrefix(scheme, "own:") {
		return ownShares(scheme)
	}
	for _, s := range shares {
		if s.scheme != scheme || s.class != "" && s.class != class || s.method != method {
			continue
		}
		if method != MethodIncorporated || hours >= s.from && (s.to == 0 || hours <= s.to) {
			return s.Shares, true
		}
	}
	if method == MethodKnife { // a table that does not tell knives from other injection
		return SharesFor(scheme, class, MethodInjected, hours)
	}
	return Shares{}, false
}

// goesByKind says whether a scheme tells the kinds of manure apart.
func goesByKind(scheme string) bool {
	return slices.ContainsFunc(shares, func(s share) bool { return s.scheme == scheme && s.class != "" })
}

func ownShares(scheme string) (Shares, bool) {
	part := strings.Split(scheme, ":")
	if len(part) != 3 {
		return Shares{}, false
	}
	ammonium, err1 := strconv.ParseFloat(part[1], 64)
	organic, err2 := strconv.ParseFloat(part[2], 64)
	ok := err1 == nil && err2 == nil && ammonium >= 0 && ammonium <= 1 && organic >= 0 && organic <= 1
	return Shares{Scheme: scheme, Ammonium: unit.Fraction(ammonium), Organic: unit.Fraction(organic)}, ok
}

// Manure is one line of manure.csv: what a kind of manure typically holds, in
// pounds per 1,000 gallons. A farm's own test is always better.
type Manure struct {
	Kind, Class                         string
	TotalN, Ammonium, Phosphate, Potash unit.MassPerVolume
	Cite
}

var manures = readManures()

func readManures() []*Manure {
	var out []*Manure
	for _, r := range readTable("manure.csv") {
		n := func(column string) unit.MassPerVolume { v, _ := r.number(column); return unit.MassPerVolume(v) }
		out = append(out, &Manure{r.text("kind"), r.text("class"), n("total_n"), n("ammonium_n"), n("phosphate"), n("potash"), r.cite("source")})
	}
	return out
}

// Manures lists the kinds of manure with typical values.
func Manures() []*Manure { return manures }

// ManureNamed finds a kind of manure; nil when there is none.
func ManureNamed(kind string) *Manure {
	for _, m := range manures {
		if m.Kind == kind {
			return m
		}
	}
	return nil
}
