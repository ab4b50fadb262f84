package voice

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// dictionary is how words are said, as phones of the English model; a word may have
// several ways.
type dictionary struct {
	words map[string][]string
	guess func(word string) (string, error) // for words of nobody's dictionary
	made  []string                          // what was guessed, for whoever wants to check it by ear
}

// readDictionary reads the recogniser's own dictionary, and ours before it.
func readDictionary(path string) (*dictionary, error) {
	d := &dictionary{words: map[string][]string{}, guess: pronounce}
	own, err := grammarFiles.Open("grammar/en.dict")
	if err != nil {
		return nil, err
	}
	defer own.Close()
	if err := d.read(own); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%w: apt-get install pocketsphinx-en-us", err)
	}
	defer f.Close()
	return d, d.read(f)
}

// read adds words; a word that an earlier file has is left as it is there.
func (d *dictionary) read(r io.Reader) error {
	mine := map[string]bool{}
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		word, phones, ok := strings.Cut(lines.Text(), " ")
		if at := strings.IndexByte(word, '('); at > 0 {
			word = word[:at]
		}
		if !ok || d.words[word] != nil && !mine[word] {
			continue
		}
		mine[word] = true
		d.words[word] = append(d.words[word], strings.Join(strings.Fields(phones), " "))
	}
	return lines.Err()
}

// say is how a phrase sounds. Only proper names are guessed: what else is in no
// dictionary is a misspelling that nobody says.
func (d *dictionary) say(phrase string, proper bool) (string, bool) {
	var sounds []string
	for _, w := range strings.Fields(phrase) {
		if d.words[w] == nil && proper {
			phones, err := d.guess(w)
			if err != nil || phones == "" {
				return "", false
			}
			d.words[w] = []string{phones}
			d.made = append(d.made, w+" "+phones)
		}
		if d.words[w] == nil {
			return "", false
		}
		sounds = append(sounds, d.words[w][0])
	}
	return strings.Join(sounds, " "), len(sounds) > 0
}

// text writes the words of a list as the recogniser reads it.
func (d *dictionary) text(words []string) (string, error) {
	var b strings.Builder
	for _, w := range words {
		if d.words[w] == nil {
			return "", fmt.Errorf("no pronunciation for %q", w)
		}
		for i, phones := range d.words[w] {
			if i == 0 {
				fmt.Fprintf(&b, "%s %s\n", w, phones)
			} else {
				fmt.Fprintf(&b, "%s(%d) %s\n", w, i+1, phones)
			}
		}
	}
	return b.String(), nil
}

// pronounce asks the speech synthesiser how a word is said.
func pronounce(word string) (string, error) {
	out, err := run(context.Background(), bounds{Time: 20 * time.Second, Memory: 128, Out: 1 << 10}, nil, "espeak-ng", "-q", "--ipa", "-v", "en-us", "--", word)
	if err != nil {
		return "", err
	}
	return phones(string(out)), nil
}

// ipa are the sounds that espeak-ng writes for US English, longest first, as phones
// of the CMU set.
var ipa = strings.NewReplacer(
	"tʃ", "CH ", "dʒ", "JH ", "eɪ", "EY ", "aɪ", "AY ", "ɔɪ", "OY ", "aʊ", "AW ", "oʊ", "OW ", "juː", "Y UW ", "iː", "IY ", "uː", "UW ", "ɑːɹ", "AA R ", "ɔːɹ", "AO R ",
	"oːɹ", "AO R ", "ɛɹ", "EH R ", "ɪɹ", "IH R ", "ʊɹ", "UH R ", "ɑː", "AA ", "ɔː", "AO ", "ɜː", "ER ", "aɪɚ", "AY ER ", "iə", "IY AH ", "ɚ", "ER ", "ɝ", "ER ", "əl", "AH L ",
	"i", "IY ", "ɪ", "IH ", "ᵻ", "IH ", "ɛ", "EH ", "æ", "AE ", "a", "AE ", "ʌ", "AH ", "ə", "AH ", "ɐ", "AH ", "ɒ", "AA ", "ʊ", "UH ", "u", "UW ", "e", "EY ", "o", "OW ",
	"p", "P ", "b", "B ", "t", "T ", "d", "D ", "k", "K ", "ɡ", "G ", "g", "G ", "f", "F ", "v", "V ", "θ", "TH ", "ð", "DH ", "s", "S ", "z", "Z ", "ʃ", "SH ", "ʒ", "ZH ", "h", "HH ",
	"m", "M ", "n", "N ", "ŋ", "NG ", "l", "L ", "ɫ", "L ", "ɹ", "R ", "r", "R ", "j", "Y ", "w", "W ", "ɾ", "T ", "ʔ", "T ", "x", "K ")

// phones turns what espeak-ng writes into phones, dropping stress, length and
// whatever is not a sound of English.
func phones(text string) string {
	text = ipa.Replace(strings.NewReplacer("ˈ", "", "ˌ", "", "\u0329", "", "\u200d", "").Replace(strings.TrimSpace(text)))
	var kept []string
	for _, p := range strings.Fields(text) {
		if strings.Trim(p, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, " ")
}
