package baseline

import (
	"strconv"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// fitter is a mare that stood at 40 for ten weeks and, trained, stands at 32 from then on.
func fitter() []vitals.Exam {
	var exams []vitals.Exam
	for i, rate := range []int{40, 41, 39, 40, 42, 40, 39, 41, 40, 40, 32, 31, 32} {
		exams = append(exams, quiet(float64(7*i), heart(rate)))
	}
	return exams
}

// The question comes with the third reading on one side, not with the second; it is answered on the
// record, and the answer can be taken back.
func TestQuestionAnswerAndBack(t *testing.T) {
	t.Parallel()
	exams := fitter()
	ask := func(h vitals.Horse, n int) Compared {
		c, err := learned(h, exams[:n]...).Compare(exams[n-1])
		td.Require(t).CmpNoError(err)
		return one(c, vitals.HeartRate)
	}
	td.Cmp(t, ask(aHorse(), 12).Question, td.Nil(), "after two")
	got := ask(aHorse(), 13)
	td.Cmp(t, got.Question, td.Struct(&Question{From: exams[10].At, Days: 3, Readings: 3, Side: Lower, Low: 31, High: 32}, td.StructFields{
		"Before": td.Smuggle(func(i Interval) bool { return i.Low > 33 && i.High < 46 }, true)}))
	td.CmpTrue(t, hasWarning(got.Warnings, WarnAskLower))

	// Answered: from here on.
	h := aHorse()
	h.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: exams[10].At, Said: exams[12].At.Add(time.Minute), By: "Ann"}}
	marked := ask(h, 13)
	td.Cmp(t, marked.Question, td.Nil())
	td.Cmp(t, marked.Statement, AsUsual)
	td.Cmp(t, marked.Basis.Since, exams[10].At)
	td.Cmp(t, marked.Basis.Exams, 2)
	td.Cmp(t, marked.Basis.Earlier, 10)
	td.Cmp(t, marked.Own.Mid, td.Between(30.5, 33.))
	td.CmpTrue(t, hasWarning(marked.Warnings, WarnNewUsual))
	td.CmpFalse(t, hasWarning(marked.Warnings, WarnTrend), "the step is no trend")
	// What was said of a night before it stays what it was.
	td.Cmp(t, ask(h, 9), ask(aHorse(), 9))

	// Taken back: as before.
	h.NewUsual[0].Back = true
	td.Cmp(t, ask(h, 13), got)

	// Answered with no: nothing changes, and it is not asked again of these readings.
	h.NewUsual[0].Back, h.NewUsual[0].Not = false, true
	no := ask(h, 13)
	td.Cmp(t, no.Question, td.Nil())
	td.Cmp(t, no.Own, got.Own)
	// Of three more it is.
	for i, rate := range []int{31, 32, 31} {
		exams = append(exams, quiet(float64(91+7*i), heart(rate)))
	}
	td.Cmp(t, ask(h, 15).Question, td.Nil())
	td.Cmp(t, ask(h, 16).Question, td.NotNil())
}

// Only quiet readings on different days ask: not a fever, not three counts of one morning.
func TestNoQuestionOfBadDaysOrOneMorning(t *testing.T) {
	t.Parallel()
	exams := fitter()[:10]
	for i := range 3 {
		e := tonight(float64(70+7*i), heart(60))
		e.ID = vitals.ID("sick-" + strconv.Itoa(i))
		exams = append(exams, e)
	}
	c, err := learned(aHorse(), exams...).Compare(exams[12])
	td.CmpNoError(t, err)
	td.Cmp(t, one(c, vitals.HeartRate).Question, td.Nil())

	exams = fitter()[:10]
	for i := range 4 {
		exams = append(exams, quiet(70+float64(i)/100, heart(32)))
	}
	c, err = learned(aHorse(), exams...).Compare(exams[13])
	td.CmpNoError(t, err)
	td.Cmp(t, one(c, vitals.HeartRate).Question, td.Nil())
}

// The answers of two telephones are put together, whatever the order.
func TestMergeBringsTheAnswers(t *testing.T) {
	t.Parallel()
	exams := fitter()
	h := aHorse()
	h.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: exams[10].At, Said: exams[12].At}}
	night := quiet(95, heart(33))
	var first Comparison
	for i, pair := range [][2]*Baseline{
		{learned(h, exams[:7]...), learned(aHorse(), exams[5:]...)},
		{learned(aHorse(), exams[5:]...), learned(h, exams[:7]...)},
	} {
		td.CmpNoError(t, pair[0].Merge(pair[1]))
		c, err := pair[0].Compare(night)
		td.CmpNoError(t, err)
		td.Cmp(t, one(c, vitals.HeartRate).Basis.Since, exams[10].At)
		if i == 0 {
			first = c
		} else {
			td.Cmp(t, c, first)
		}
	}
}

// Each own reading carries how probable it is that it was of a bad day, and the comparison says so.
func TestOddDaysAreSaid(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i, rate := range []int{34, 36, 35, 33, 58, 35, 34, 36, 35} {
		exams = append(exams, quiet(float64(7*i), heart(rate)))
	}
	b := learned(aHorse(), exams...)
	c, err := b.Compare(tonight(70, heart(36)))
	td.CmpNoError(t, err)
	td.Cmp(t, one(c, vitals.HeartRate).Warnings, td.SuperBagOf(Warning{Key: WarnOddDays,
		Args: []string{"n", "1", "of", "9", "value", "58", "day", vitals.DateOf(exams[4].At).String()}}))
	n, ok := b.Normal(vitals.HeartRate, "", spring.AddDate(0, 0, 70))
	td.CmpTrue(t, ok)
	for i, l := range n.Readings {
		if i == 4 {
			td.Cmp(t, l.Odd, td.Gt(.9))
		} else {
			td.Cmp(t, l.Odd, td.Lt(.1))
		}
	}
	// Nothing is rejected: it still counts for a little.
	td.Cmp(t, n.Basis.Exams, 9)
}
