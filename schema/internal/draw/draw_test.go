package draw

import (
	"testing"

	"whorl.example/vitals"
)

// What is drawn is in order, or the tests that use it would test refusals only.
func TestWhatIsDrawnIsInOrder(t *testing.T) {
	for seed := range uint64(500) {
		s := New(seed)
		h := s.Horse()
		if faults := vitals.CheckHorse(h); faults != nil {
			t.Fatal(seed, faults)
		}
		if faults := vitals.CheckExam(s.Exam(h), h); faults != nil {
			t.Fatal(seed, faults)
		}
	}
}
