package parse

import (
	"bufio"
	"fmt"
	"os"
	"testing"
)

func TestZZ(t *testing.T) {
	f, err := os.Open("/tmp/in.txt")
	if err != nil {
		t.Skip()
	}
	s := bufio.NewScanner(f)
	for s.Scan() {
		fmt.Println("#", s.Text())
		fmt.Print(Explain(s.Text(), Context{Lang: "en"}))
	}
}
func BenchmarkMain(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Parse("3000 gallon tank, 7000 per acre, ryegrass 12 lb", Context{Lang: "en"})
	}
}
