package voice

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// drawn is how many sentences the n-gram model is learned from. More change nothing
// that could be measured.
const drawn = 60000

// The files of a vocabulary.
const (
	wordsFile   = "words.txt"
	dictFile    = "tankside.dict"
	grammarFile = "tankside.jsgf"
	modelFile   = "tankside.lm"
)

// Vocabulary is what Sphinx listens for.
type Vocabulary struct {
	words   []string
	dict    string
	loop    string
	model   *model
	Guessed []string // "word PHONES" of names in no dictionary: to be checked by ear
}

// NewVocabulary makes the vocabulary of a lexicon, with the pronunciations of the
// recogniser's model.
func NewVocabulary(lex Lexicon, modelDir string) (*Vocabulary, error) {
	g, err := ourGrammar()
	if err != nil {
		return nil, err
	}
	d, err := readDictionary(filepath.Join(modelDir, "cmudict-en-us.dict"))
	if err != nil {
		return nil, err
	}
	if err := g.fill(lex, d.say); err != nil {
		return nil, err
	}
	words := union(g.words("message"), g.words("phrase"))
	v := &Vocabulary{words: words, loop: g.jsgf("phrase"), Guessed: d.made, model: learn(g.sentences(drawn))}
	v.dict, err = d.text(words)
	return v, err
}

// ourGrammar is the grammar with the whole messages as its rule <said>.
func ourGrammar() (grammar, error) {
	rules, err := grammarFiles.ReadFile("grammar/en.jsgf")
	if err != nil {
		return nil, err
	}
	said, err := grammarFiles.ReadFile("grammar/en.said")
	if err != nil {
		return nil, err
	}
	_, list, _ := strings.Cut(string(said), "\n") // the first line is a comment
	return readGrammar(string(rules) + "\n<said> = " + strings.ReplaceAll(strings.TrimSpace(list), "\n", " | ") + " ;")
}

// Words is everything that can be heard.
func (v *Vocabulary) Words() []string { return v.words }

// Write writes the vocabulary into a folder: the words, their pronunciations, the
// grammar of the phrase loop and the n-gram model.
func (v *Vocabulary) Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	files := map[string]string{wordsFile: strings.Join(v.words, "\n") + "\n", dictFile: v.dict, grammarFile: v.loop}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return err
		}
	}
	f, err := os.Create(filepath.Join(dir, modelFile))
	if err != nil {
		return err
	}
	if err := v.model.write(f); err != nil {
		f.Close()
		return fmt.Errorf("write %s: %w", modelFile, err)
	}
	return f.Close()
}

// union merges two sorted lists.
func union(a, b []string) []string {
	all := make([]string, 0, len(a)+len(b))
	for len(a) > 0 && len(b) > 0 {
		switch strings.Compare(a[0], b[0]) {
		case -1:
			all, a = append(all, a[0]), a[1:]
		case 1:
			all, b = append(all, b[0]), b[1:]
		default:
			all, a, b = append(all, a[0]), a[1:], b[1:]
		}
	}
	return append(append(all, a...), b...)
}
