package voice

import (
	"os"
	"path/filepath"
	"testing"
)

func TestQuietClips(t *testing.T) {
	if os.Getenv("EXPLORE") == "" {
		return
	}
	os.MkdirAll("/tmp/tsquiet2", 0o755)
	files, _ := filepath.Glob("/tmp/tsclips/tuning*-20.wav")
	for _, f := range files {
		b, _ := os.ReadFile(f)
		s, _ := FromWAV(b)
		os.WriteFile(filepath.Join("/tmp/tsquiet2", filepath.Base(f)), quieten(s).WAV(), 0o644)
	}
}
