package main

import (
	"errors"
	"fmt"
	"strings"

	"tankside/engine"
	"tankside/parse"
	"tankside/phrases"
)

type check struct{}

// Run prints every gap, or what was looked at when there is none.
func (check) Run(t *term) error {
	found := gaps()
	for _, gap := range found {
		fmt.Fprintln(t.Out, gap)
	}
	if len(found) > 0 {
		return fmt.Errorf("%d gaps", len(found))
	}
	_, err := fmt.Fprintf(t.Out, "no gaps: %d crops, %d sources, words and texts in %s\n",
		len(engine.Crops()), len(engine.Sources()), strings.Join(phrases.Languages(), ", "))
	return err
}

// gaps lists what is missing from the tables, the words and the texts.
func gaps() []string {
	found := tableGaps()
	for _, lang := range phrases.Languages() {
		found = append(found, wordGaps(lang)...)
	}
	return append(found, phrases.Gaps()...)
}

// tableGaps looks for crops that nothing can be said about, and for values whose
// source is not in the list of sources.
func tableGaps() (found []string) {
	for _, c := range engine.Crops() {
		if c.HighestRate() <= 0 {
			found = append(found, "tables: "+c.Name+" has no published rate")
		}
		if c.Kind == "" || !c.Seeds.Known() {
			found = append(found, "tables: "+c.Name+" lacks its kind or its seed count")
		}
		for what, key := range sourcesOf(c) {
			if key != "" && engine.SourceNamed(key) == nil {
				found = append(found, fmt.Sprintf("tables: %s of %s is from %s, which is not in the list of sources", what, c.Name, key))
			}
		}
	}
	for _, s := range engine.Sources() {
		if s.Title == "" || s.Status != "read" && s.Status != "memory" {
			found = append(found, "tables: source "+s.Key+" has no title, or does not say whether it was read")
		}
	}
	return found
}

func sourcesOf(c *engine.Crop) map[string]string {
	keys := map[string]string{"seeds": c.Seeds.Source, "drilled rate": c.Drilled.Source, "broadcast rate": c.Broadcast.Source,
		"depth": c.SeedDepth.Source, "soil temperature": c.MinSoil.Source, "test weight": c.TestWeight.Source,
		"emergence": c.Emergence.Source, "kind": c.KindBy.Source, "winter": c.WinterBy.Source}
	for _, w := range c.Windows {
		keys["seeding time in "+w.Place] = w.Source
	}
	return keys
}

// shared are the word classes that mean the same in every language; the others
// belong to the grammar of one.
var shared = map[string]bool{"act": true, "crop": true, "info": true, "noun": true, "nut": true, "q": true, "role": true, "unit": true}

// wordGaps looks for crops without a word, and for what only English can say.
func wordGaps(lang string) (found []string) {
	words, err := keysOf(lang)
	english, err2 := keysOf("en")
	if err = errors.Join(err, err2); err != nil {
		return []string{"words: " + err.Error()}
	}
	for _, c := range engine.Crops() {
		english["crop "+c.Name] = true
	}
	for key := range english {
		if class, _, _ := strings.Cut(key, " "); shared[class] && !words[key] {
			found = append(found, "words: "+lang+" has none for "+key)
		}
	}
	return found
}

// keysOf is what a language has words for, with the signs that all languages share.
func keysOf(lang string) (map[string]bool, error) {
	keys := map[string]bool{}
	for _, file := range []string{lang, "common"} {
		list, err := parse.LexiconKeys(file)
		if err != nil {
			return nil, err
		}
		for _, key := range list {
			keys[key] = true
		}
	}
	return keys, nil
}
