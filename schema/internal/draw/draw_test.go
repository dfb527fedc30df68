package draw

import (
	"math/rand/v2"
	"testing"

	"whorl.example/vitals"
)

// What is drawn is in order, or the tests that use it would test refusals only.
func TestWhatIsDrawnIsInOrder(t *testing.T) {
	t.Parallel()
	for seed := range uint64(500) {
		s := Source(rand.New(rand.NewPCG(seed, 1)).IntN)
		h := s.Horse()
		if faults := vitals.CheckHorse(h); faults != nil {
			t.Fatal(seed, faults)
		}
		if faults := vitals.CheckExam(s.Exam(h), h); faults != nil {
			t.Fatal(seed, faults)
		}
	}
}
