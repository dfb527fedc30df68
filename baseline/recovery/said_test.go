package recovery

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
)

// When a rate was reached is said with both sides where both are known, with one where one is, and without.
func TestReachedSaid(t *testing.T) {
	t.Parallel()
	low, high := 4., 9.
	for _, c := range []struct {
		r    Reached
		key  string
		args []string
	}{
		{Reached{Low: &low, High: &high}, "recovery.range", []string{"low", "4", "high", "9"}}, {Reached{Low: &low}, "recovery.range-low", []string{"low", "4"}},
		{Reached{High: &high}, "recovery.range-high", []string{"high", "9"}}, {Reached{}, "recovery.range-none", nil},
	} {
		c.r.State, c.r.Minutes = ReachedBetween, 6
		said := c.r.Say(words.English, 64)
		td.Cmp(t, said, []string{words.Say(words.English, "recovery."+string(ReachedBetween), "limit", "64", "minutes", "6", "range", words.Say(words.English, c.key, c.args...))})
	}
	td.Cmp(t, Reached{State: ReachedBetween, RoseAgain: true}.Say(words.English, 64), td.Len(2))
}

// The chance of a criterion is said where it is neither sure nor out of the question.
func TestChanceSaid(t *testing.T) {
	t.Parallel()
	for p, want := range map[float64]string{.02: "", .03: "3", .5: "50", .97: "97", .98: ""} {
		said := CriterionAnswer{Criterion: Criteria()[0], Within: Within, Chance: &p}.Say(words.English)
		chance := words.Say(words.English, "recovery.chance", "p", want)
		td.Cmp(t, strings.Contains(said, chance), want != "", "%g: %s", p, said)
		if want == "" {
			td.Cmp(t, said, CriterionAnswer{Criterion: Criteria()[0], Within: Within}.Say(words.English))
		}
	}
}
