package store

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tankside/bot"
)

func TestBackupAndRestore(t *testing.T) {
	dir := t.TempDir()
	path, copied := filepath.Join(dir, "log.db"), filepath.Join(dir, "safe", "monday.db")
	s := open(t, path)
	for id := int64(1); id <= 40; id++ {
		for _, chat := range []int64{chatA, chatB} {
			apply(t, s, chat, id, bot.Memory{Field: 1}, bot.Effect{Add: load(id, 0, 1, noon)})
		}
	}
	if err := s.Backup(ctx, copied); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(ctx, copied); err == nil {
		t.Error("a back-up was overwritten")
	}
	apply(t, s, chatA, 41, bot.Memory{Field: 1}, bot.Effect{Add: load(41, 0, 1, noon)})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	kept, err := Restore(ctx, copied, path)
	if err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]int{path: 40, kept: 41} {
		s := open(t, file)
		if _, b, _ := get(t, s, chatA, 0, noon); b.Field.Count != want {
			t.Errorf("%s has %d loads, want %d", file, b.Field.Count, want)
		}
		if _, b, _ := get(t, s, chatB, 0, noon); b.Field.Count != 40 {
			t.Errorf("%s: the other chat has %d loads", file, b.Field.Count)
		}
	}
}

func TestDamagedBackupIsRefused(t *testing.T) {
	dir := t.TempDir()
	path, damaged := filepath.Join(dir, "log.db"), filepath.Join(dir, "damaged.db")
	s := open(t, path)
	for id := int64(1); id <= 400; id++ {
		apply(t, s, chatA, id, bot.Memory{Field: 1}, bot.Effect{Add: load(id, 0, 1, noon)})
	}
	if err := s.Backup(ctx, damaged); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(damaged)
	if err != nil {
		t.Fatal(err)
	}
	copy(data[len(data)/2:], bytes.Repeat([]byte{0xff}, 9000))
	if err := os.WriteFile(damaged, data, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{damaged, filepath.Join(dir, "nothing.db")} {
		if _, err := Restore(ctx, bad, path); err == nil {
			t.Errorf("%s was taken for a back-up", bad)
		}
	}
	if _, b, _ := get(t, s, chatA, 0, noon); b.Field.Count != 400 {
		t.Errorf("the log has %d loads", b.Field.Count)
	}
	left, err := filepath.Glob(filepath.Join(dir, "*restore*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %s", strings.Join(left, " "))
	}
}
