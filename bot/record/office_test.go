//go:build office

package record

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The sheets open in LibreOffice without a word of warning, and come out of it with
// the totals that were put in. It needs Debian's libreoffice-calc:
//
//	go test -tags office ./bot/record
func TestOpensInAnOffice(t *testing.T) {
	r := built(Query{})
	folder := t.TempDir()
	for name, write := range map[string]func(*bytes.Buffer) error{"sheet.xlsx": func(b *bytes.Buffer) error { return r.XLSX(b) },
		"table.csv": func(b *bytes.Buffer) error { return r.CSV(b) }} {
		if err := os.WriteFile(filepath.Join(folder, name), written(t, write), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	convert := func(file, form string) string {
		cmd := exec.Command("soffice", "--headless", "-env:UserInstallation=file://"+filepath.Join(folder, "profile"), "--convert-to", form, "--outdir",
			filepath.Join(folder, "out"), filepath.Join(folder, file))
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		for _, said := range strings.Split(string(out), "\n") {
			if low := strings.ToLower(said); strings.Contains(low, "error") || strings.Contains(low, "warn") && !strings.Contains(low, "javaldx") {
				t.Errorf("%s: %s", file, said)
			}
		}
		return string(out)
	}
	convert("sheet.xlsx", `csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,2`)
	raw, err := os.ReadFile(filepath.Join(folder, "out", "sheet-Loads.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	last := rows[len(rows)-1]
	if len(rows) != 13 || figure(t, last[6]) != r.Sum.Volume || figure(t, last[7]) != r.Sum.Area || figure(t, last[9]) != r.Sum.Seeds["annual ryegrass"] {
		t.Errorf("%d rows, the last is %q; the record has %+v", len(rows), last, r.Sum)
	}
	convert("table.csv", "ods")
}
