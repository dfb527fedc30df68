package baseline

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

// The Dirichlet-multinomial worked out by hand: (4 pi + n)/(4 + n) with pi = .85 .12 .025 .005
// and five exams of which one showed rank 1: P(>=1) = 1.6/9, P(>=2) = .12/9, P(>=3) = .02/9.
func TestGradeTails(t *testing.T) {
	t.Parallel()
	sign := vitals.Sign{ID: "s", Kind: vitals.KindGrade, Grades: []vitals.Grade{
		{ID: "0", Rank: 0}, {ID: "1", Rank: 1}, {ID: "2", Rank: 2}, {ID: "3", Rank: 3},
	}}
	own := make([]grade.Answer, 5)
	for i := range own {
		own[i] = grade.Answer{Chosen: []vitals.GradeID{"0"}}
	}
	own[3] = grade.Answer{Chosen: []vitals.GradeID{"1"}, Rank: 1}
	for _, c := range []struct {
		rank    int
		want    float64
		beyond  float64
		wantHad int
	}{
		{0, 1, .1777777778, 5},
		{1, .1777777778, .0133333333, 1},
		{2, .0133333333, .0022222222, 0},
		{3, .0022222222, .004 / 9, 0},
	} {
		g := vitals.GradeID(rune('0' + c.rank))
		atLeast, beyond, seen := grade.Tails(sign, grade.Answer{Chosen: []vitals.GradeID{g}, Rank: c.rank}, own)
		td.Cmp(t, atLeast, td.Between(c.want-1e-9, c.want+1e-9), "P(>=%d)", c.rank)
		td.Cmp(t, beyond, td.Between(c.beyond-1e-9, c.beyond+1e-9), "P(>%d)", c.rank)
		td.Cmp(t, seen, c.wantHad)
	}
}

// Of the answers beside the usual one, only the one the horse has shown is a precedent.
func TestGradeOtherSideOfUsual(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i := range 12 {
		g := vitals.GradeID("usual")
		if i < 3 {
			g = "less"
		}
		exams = append(exams, quiet(float64(7*i), shown(vitals.GutSounds, "flank-left", g)))
	}
	b := learned(aHorse(), exams...)
	less, err := b.Compare(tonight(90, shown(vitals.GutSounds, "flank-left", "less")))
	td.CmpNoError(t, err)
	td.Cmp(t, less.Signs[0], td.Struct(Compared{Statement: AsUsual, Seen: 3, Usual: []vitals.GradeID{"usual"}, UsualSeen: 9}, nil))
	more, err := b.Compare(tonight(90, shown(vitals.GutSounds, "flank-left", "more")))
	td.CmpNoError(t, err)
	td.Cmp(t, more.Signs[0].Statement, FirstSeen)
	td.Cmp(t, more.Signs[0].Seen, 0)
}

// An answer off the usual one that the horse has not shown is never called usual, and not
// rare either while its exams are few.
func TestGradeNotSeen(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 1, 8, 9, 20, 56, 57, 60} {
		var exams []vitals.Exam
		for i := range n {
			exams = append(exams, quiet(float64(7*i), shown(vitals.GumColour, "", "pink")))
		}
		c, err := learned(aHorse(), exams...).Compare(tonight(450, shown(vitals.GumColour, "", "pale-pink")))
		td.CmpNoError(t, err)
		got := c.Signs[0]
		switch {
		case n == 0: // nobody knows what she shows
			td.Cmp(t, got.Statement, Noted)
		case n < 57: // 4 x .15 / (4+n) < .01 from n = 57; with 56 it is exactly .01
			td.Cmp(t, got.Statement, FirstSeen, "n = %d", n)
			td.CmpTrue(t, hasWarning(got.Warnings, WarnNotSeen))
			td.Cmp(t, Comparison{Signs: c.Signs}.Telling(), []Telling{{vitals.GumColour, TellingUnusual}})
		default:
			td.Cmp(t, got.Statement, Differs, "n = %d", n)
		}
	}
}

// Doing one thing or another has no usual one among its answers of rank 0.
func TestGradeUsualIsUsual(t *testing.T) {
	t.Parallel()
	c, err := must(New(aHorse())).Compare(tonight(0, shown(vitals.Doing, "", "lying"), shown(vitals.GumColour, "", "purple")))
	td.CmpNoError(t, err)
	td.Cmp(t, c.Signs[0].Statement, AsUsual)
	td.Cmp(t, c.Signs[1].Statement, Differs)
}

// What was shown as often as something else is no usual, and one precedent is told as one.
func TestUsualTakesAPlurality(t *testing.T) {
	t.Parallel()
	history := func(grades ...vitals.GradeID) (exams []vitals.Exam) {
		for i, g := range grades {
			exams = append(exams, quiet(float64(7*i), shown(vitals.GumColour, "", g)))
		}
		return exams
	}
	for _, x := range []struct {
		history []vitals.GradeID
		want    Statement
		usual   []vitals.GradeID
		seen    int
	}{
		{[]vitals.GradeID{"pink", "pale-pink"}, Noted, nil, 1},
		{[]vitals.GradeID{"pink", "pale-pink", "pink", "pale-pink"}, Noted, nil, 2},
		{[]vitals.GradeID{"pink", "pink", "pale-pink"}, Noted, []vitals.GradeID{"pink"}, 1},
		{[]vitals.GradeID{"pink", "pink", "pink", "pale-pink", "pale-pink"}, AsUsual, []vitals.GradeID{"pink"}, 2},
		{[]vitals.GradeID{"pale-pink"}, AsUsual, []vitals.GradeID{"pale-pink"}, 1},
	} {
		c, err := learned(aHorse(), history(x.history...)...).Compare(tonight(200, shown(vitals.GumColour, "", "pale-pink")))
		td.Require(t).CmpNoError(err)
		s := c.Signs[0]
		td.Cmp(t, s.Statement, x.want, "%v", x.history)
		td.Cmp(t, s.Usual, td.Bag(td.Flatten(x.usual)), "%v", x.history)
		td.Cmp(t, s.Seen, x.seen, "%v", x.history)
	}
}
