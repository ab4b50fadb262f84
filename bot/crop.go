package bot

import (
	"slices"
	"strings"

	"tankside/engine"
	"tankside/parse"
)

// ryeWord is how the parser hands on a bare "rye".
const ryeWord = "rye"

// crops settles the crop words that could be two crops: "rye" is cereal rye at a
// cereal's rate and asked about below it, "ryegrass" at a cereal's rate likewise;
// "clover" is asked about. A factor of ten in seed is never guessed.
func (t *turn) crops() bool {
	if t.req.Convert != nil {
		return false
	}
	if t.req.Either {
		for _, name := range t.req.OneOf {
			if name == ryeWord {
				name = "cereal rye"
			}
			if engine.CropNamed(name) == nil {
				for _, kin := range kindsOf[name] {
					t.req.Choices = append(t.req.Choices, engine.Choice{Slot: engine.CropSaid, Of: kin, Word: kin})
				}
				continue
			}
			t.req.Choices = append(t.req.Choices, engine.Choice{Slot: engine.CropSaid, Of: name, Word: name})
		}
		return false
	}
	t.tagCrops()
	t.bagCrops()
	for i := range t.said {
		f := &t.said[i]
		if f.Slot != engine.SeedRate && f.Slot != engine.SeedShare && f.Slot != engine.TotalSeed && f.Slot != engine.SeedPrice && f.Slot != engine.Purity && f.Slot != engine.Germination && f.Slot != engine.SeedsPerWeight {
			continue
		}
		if t.settleCrop(f) {
			return t.cropDoubt()
		}
	}
	for i := range t.req.Crops {
		c := &t.req.Crops[i]
		switch {
		case c.Name == ryeWord && (hasOf(t.said, "cereal rye") || t.onlyCerealRye() || t.jarAbout() && t.hasRye()):
			c.Name = "cereal rye"
		case c.Name == ryeWord && (t.soakAsked() || t.req.WhatIf || len(t.said) > 0 && !t.cropAsked()):
			t.doubt(engine.RyeOrRyegrass, []string{"cereal rye", "annual ryegrass"}, "rye")
			c.Name = ""
			return t.cropDoubt()
		case c.Name == ryeWord:
			c.Name = "cereal rye"
		case engine.CropNamed(c.Name) == nil && t.saidKind(c.Name) != "":
			c.Name = t.saidKind(c.Name) // "red clover at ten pounds, how much clover"
		case engine.CropNamed(c.Name) == nil && c.Name != "":
			t.doubt(engine.WhichCrop, kindsOf[c.Name], c.Name)
			c.Name = ""
			return t.cropDoubt()
		}
	}
	return false
}

// mostRyeSeeds is more seeds in a pound than a cereal has: ryegrass has ten times as many.
const mostRyeSeeds = 50000

// hasRye says whether the chat seeds cereal rye and no ryegrass: "rye seeds" in a jar are
// of what is in the tank.
func (t *turn) hasRye() bool {
	rye := false
	for i := range t.m.Facts {
		if f := &t.m.Facts[i].Fact; f.Slot == engine.SeedRate {
			if strings.HasSuffix(f.Of, "ryegrass") {
				return false
			}
			rye = rye || f.Of == "cereal rye"
		}
	}
	return rye
}

// tagCrops gives a tag value said without its crop the one crop that the chat has a
// tag of: "and if the germ is 90?".
func (t *turn) tagCrops() {
	for i := range t.said {
		f := &t.said[i]
		if f.Of != "" || f.Slot != engine.Purity && f.Slot != engine.Germination && f.Slot != engine.HardSeed && f.Slot != engine.Coating {
			continue
		}
		of := ""
		for k := range t.m.Facts {
			if g := &t.m.Facts[k].Fact; g.Slot == f.Slot {
				if of != "" && of != g.Of {
					return
				}
				of = g.Of
			}
		}
		f.Of = of
	}
}

// bagCrops: a bag of "rye" is of what the rye of the message is: "rye is twelve dollars a
// bag fifty six pound bag sixty pounds an acre". Which one, its rate tells.
func (t *turn) bagCrops() {
	for i := range t.said {
		if f := &t.said[i]; f.Of == ryeWord && (f.Slot == engine.BagWeight || f.Slot == engine.BagCount) {
			if f.Of = "cereal rye"; t.doubtfulRye() {
				f.Of = ""
			}
		}
	}
}

// onlyCerealRye says whether the chat has a rate of cereal rye, and of no ryegrass that
// "rye" could be short for.
func (t *turn) onlyCerealRye() bool {
	found := false
	for i := range t.m.Facts {
		f := &t.m.Facts[i].Fact
		if f.Slot == engine.SeedRate && strings.HasSuffix(f.Of, "ryegrass") {
			return false
		}
		found = found || f.Slot == engine.SeedRate && f.Of == "cereal rye"
	}
	return found
}

// doubtfulRye says whether a rate of "rye" was said that is not cereal rye's.
func (t *turn) doubtfulRye() bool {
	return slices.ContainsFunc(t.said, func(f engine.Fact) bool {
		lo, hi := f.Base()
		return f.Slot == engine.SeedRate && f.Of == ryeWord && (lo < 30 || hi > 400)
	})
}

func hasOf(fs engine.Facts, crop string) bool {
	return slices.ContainsFunc(fs, func(f engine.Fact) bool { return f.Of == crop })
}

func (t *turn) soakAsked() bool {
	return slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Topic == engine.TopicSoak })
}

func (t *turn) cropAsked() bool {
	return slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Topic == engine.TopicCrop })
}

// kindsOf are the crops that a common name can mean.
var kindsOf = map[string][]string{"clover": {"red clover", "white clover", "crimson clover"}, "fescue": {"tall fescue", "festulolium"},
	"grass": {"annual ryegrass", "orchardgrass", "timothy"}, "peas": {"field pea", "hairy vetch"}}

// settleCrop gives a seed amount its crop; true when it must be asked about.
func (t *turn) settleCrop(f *engine.Fact) bool {
	lo, hi := f.Base()
	rate := f.Slot == engine.SeedRate
	switch {
	case f.Of == ryeWord && (rate && (lo < 30 || hi > 400) || f.Slot == engine.SeedsPerWeight && hi > mostRyeSeeds):
		f.Of = ""
		t.doubt(engine.RyeOrRyegrass, []string{"cereal rye", "annual ryegrass"}, "rye")
		return true
	case f.Of == ryeWord:
		f.Of = "cereal rye"
	case (f.Of == "annual ryegrass" || f.Of == "perennial ryegrass") && rate && lo > 60 && lo <= 200 && !t.toldApart():
		f.Of = ""
		t.doubt(engine.RyeOrRyegrass, []string{"cereal rye", "annual ryegrass"}, "ryegrass")
		return true
	case f.Of != "" && engine.CropNamed(f.Of) == nil && t.ofKind(f.Of) != "":
		f.Of = t.ofKind(f.Of)
	case f.Of != "" && engine.CropNamed(f.Of) == nil && t.withoutKind(f, kindsOf[f.Of]):
	case f.Of != "" && engine.CropNamed(f.Of) == nil:
		t.doubt(engine.WhichCrop, kindsOf[f.Of], f.Of)
		f.Of = ""
		return true
	case f.Of == "" && rate && t.req.Problem == nil && len(t.req.Crops) == 0 && !t.tagged():
		return t.onlySeed(f)
	}
	return false
}

// toldApart says whether this message is the answer to which of the two was meant.
func (t *turn) toldApart() bool { return t.pending != nil && t.pending.Problem == engine.RyeOrRyegrass }

// tagged says whether the message is about a seed lot's tag, which needs no crop.
func (t *turn) tagged() bool {
	return t.said.First(engine.Purity) != nil || t.said.First(engine.Germination) != nil || t.said.First(engine.PureLiveSeed) != nil ||
		slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Topic == engine.TopicSeedLot })
}

// saidKind is the one crop of a kind that an amount was said of, here or before.
func (t *turn) saidKind(kind string) string {
	found := ""
	for i := range t.said {
		if of := t.said[i].Of; kind != "" && strings.HasSuffix(of, " "+kind) {
			if found != "" && found != of {
				return ""
			}
			found = of
		}
	}
	if found == "" {
		found = t.knownKind(kind)
	}
	if found == "" && kind != "" && t.m.Last != nil && len(t.m.Last.Crops) == 1 && strings.HasSuffix(t.m.Last.Crops[0], " "+kind) {
		return t.m.Last.Crops[0] // talked of right before: "does the clover settle out"
	}
	return found
}

// knownKind is the one crop of a kind that the chat has a rate of.
func (t *turn) knownKind(kind string) string {
	found := ""
	for i := range t.m.Facts {
		f := &t.m.Facts[i].Fact
		if f.Slot != engine.SeedRate || kind == "" || !strings.HasSuffix(f.Of, " "+kind) {
			continue
		}
		if found != "" && found != f.Of {
			return ""
		}
		found = f.Of
	}
	return found
}

// ofKind is the one crop of a kind that the message names in full, "crimson clover …
// and the clover at 18", or that the chat has a rate of.
func (t *turn) ofKind(kind string) string {
	found := ""
	for i := range t.req.Crops {
		if c := t.req.Crops[i].Name; strings.HasSuffix(c, " "+kind) {
			if found != "" && found != c {
				return ""
			}
			found = c
		}
	}
	if found == "" {
		return t.knownKind(kind)
	}
	return found
}

// onlySeed: a seed amount without its crop is of the one crop of the chat; asked
// about otherwise.
func (t *turn) onlySeed(f *engine.Fact) bool {
	var crops []string
	for i := range t.m.Facts {
		if s := t.m.Facts[i].Fact; s.Slot == engine.SeedRate && !slices.Contains(crops, s.Of) {
			crops = append(crops, s.Of)
		}
	}
	if len(crops) == 0 {
		crops = t.priced()
	}
	if t.pending != nil && t.pending.Of != "" {
		crops = []string{t.pending.Of}
	}
	if len(crops) == 1 {
		f.Of = t.kin(crops[0])
		return false
	}
	if t.withoutCrop(f) {
		return false
	}
	t.req.Problem = &engine.Problem{Code: engine.WhichCrop}
	t.req.Choices = nil
	return false
}

// priced are the crops whose seed has a price in this chat or message.
func (t *turn) priced() []string {
	var crops []string
	add := func(f *engine.Fact) {
		if f.Slot == engine.SeedPrice && engine.CropNamed(f.Of) != nil && !slices.Contains(crops, f.Of) {
			crops = append(crops, f.Of)
		}
	}
	for i := range t.m.Facts {
		add(&t.m.Facts[i].Fact)
	}
	for i := range t.said {
		add(&t.said[i])
	}
	return crops
}

// kin is the crop that the message names only by what tells it from its kin: "and
// white at 6?" where red clover was talked of.
func (t *turn) kin(crop string) string {
	_, kind, ok := strings.Cut(crop, " ")
	if ok && t.req.Kind != "" && strings.HasSuffix(t.req.Kind, " "+kind) {
		return t.req.Kind
	}
	return crop
}

// doubt prepares the question which crop was meant.
func (t *turn) doubt(code string, crops []string, word string) {
	t.req.Problem = &engine.Problem{Code: code, Words: []string{word}}
	t.req.Choices = nil
	for _, c := range crops {
		t.req.Choices = append(t.req.Choices, engine.Choice{Slot: engine.CropSaid, Of: c, Word: c})
	}
}

// cropDoubt goes on with the rest, so that the area and volumes that do not depend
// on the crop are given with the question.
func (t *turn) cropDoubt() bool { return false }
