package voice

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"
)

// Speaker makes a voice note that says something. The text is words for the ear:
// no figures, no signs, no abbreviations.
type Speaker interface {
	Speak(ctx context.Context, text, lang string) ([]byte, error)
}

// Espeak speaks with espeak-ng. The speed is in words a minute; 0: 155, slower than
// usual, for a cab.
type Espeak struct{ Speed int }

// voices are espeak-ng's, per language.
var voices = map[string]string{"en": "en-us", "es": "es-419"}

// level is how loud a note is on average, in decibels below the most there can be:
// as loud as speech comes from a phone without clipping.
const level = -18

// Speak says the text.
func (e Espeak) Speak(ctx context.Context, text, lang string) ([]byte, error) {
	voice, ok := voices[lang]
	if !ok {
		return nil, fmt.Errorf("espeak: no voice for %q", lang)
	}
	if text = tidy(text); text == "" {
		return nil, errors.New("nothing to say")
	}
	speed := e.Speed
	if speed == 0 {
		speed = 155
	}
	b := bounds{Time: 15 * time.Second, Memory: 128, Out: 16 << 20}
	wav, err := run(ctx, b, strings.NewReader(text), "espeak-ng", "-v", voice, "-s", fmt.Sprint(speed), "--stdin", "--stdout")
	if err != nil {
		return nil, err
	}
	sound, err := FromWAV(wav)
	if err != nil {
		return nil, fmt.Errorf("espeak: %w", err)
	}
	return EncodeOpus(sound.leveled(level))
}

// leveled brings sound to a loudness, as far as its peaks allow.
func (s Sound) leveled(decibels float64) Sound {
	gain := math.Pow(10, (decibels-s.Loudness())/20)
	peak := 1.0
	for _, v := range s {
		peak = max(peak, math.Abs(float64(v)))
	}
	gain = min(gain, 0.95*math.MaxInt16/peak)
	out := make(Sound, len(s))
	for i, v := range s {
		out[i] = clip(gain * float64(v))
	}
	return out
}
