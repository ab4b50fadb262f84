package phrases

import "testing"

func BenchmarkText(b *testing.B) {
	o := loadAnswer()
	b.ReportAllocs()
	for b.Loop() {
		Text("en", o)
	}
}

func BenchmarkSpoken(b *testing.B) {
	o := loadAnswer()
	b.ReportAllocs()
	for b.Loop() {
		Spoken("es", o)
	}
}

// TestAllocations keeps the answer to the first question cheap.
func TestAllocations(t *testing.T) {
	o := loadAnswer()
	if n := testing.AllocsPerRun(100, func() { Text("en", o) }); n > 25 {
		t.Errorf("%v allocations for the load answer", n)
	}
}
