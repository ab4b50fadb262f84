package main

import (
	"fmt"

	"tankside/bot/voice"
)

type vocabulary struct {
	Dir   string   `arg:"" help:"Folder to write to."`
	Model string   `name:"model" default:"/usr/share/pocketsphinx/model/en-us" help:"Folder of the recogniser's English model."`
	Field []string `name:"field" placeholder:"NAME" help:"Field names to listen for."`
}

// Run writes what the offline recogniser listens for: words, pronunciations, grammar
// and n-gram model.
func (c *vocabulary) Run(t *term) error {
	lex, err := lexicon(c.Field)
	if err != nil {
		return err
	}
	v, err := voice.NewVocabulary(lex, c.Model)
	if err != nil {
		return err
	}
	if err := v.Write(c.Dir); err != nil {
		return err
	}
	for _, g := range v.Guessed {
		fmt.Fprintf(t.Err, "tankside: guessed how to say: %s\n", g)
	}
	_, err = fmt.Fprintf(t.Out, "%d words in %s\n", len(v.Words()), c.Dir)
	return err
}
