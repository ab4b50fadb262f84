package voice

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestExplore(t *testing.T) {
	if os.Getenv("EXPLORE") == "" {
		return
	}
	lex := botLexicon(t)
	start := time.Now()
	dir := "/tmp/tsvoc"
	s, err := NewSphinx(lex, SphinxModel, dir)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("vocabulary", time.Since(start))
	os.MkdirAll("/tmp/tsclips", 0o755)
	for _, set := range []string{"tuning"} {
		for _, v := range []string{"rms", "slt"} {
			for i, text := range lines(t, set+".txt") {
				if i < 40 {
					continue
				}
				clean := padded(speak(t, v, text))
				for _, db := range []float64{99, 20, 10} {
					n := asNote(t, withNoise(clean, db, uint64(i)))
					os.WriteFile(filepath.Join("/tmp/tsclips", fmt.Sprintf("%s-%s-%02d-%v.wav", set, v, i, db)), n.Sound.WAV(), 0o644)
				}
			}
		}
	}
	_ = s
	_ = context.Background()
	fmt.Println("clips", time.Since(start))
}
