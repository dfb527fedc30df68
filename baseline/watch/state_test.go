package watch

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The state as it stands second: a bout of work, and no recheck of a sick horse; and what else was so during a watch is said.
func TestTheStateIsASet(t *testing.T) {
	t.Parallel()
	b := juniper(nil)
	second := quietHeart(1, 34)[0]
	second.State = vitals.State{Condition: vitals.Excited, Also: []vitals.Condition{vitals.AfterWork}, SinceMinutes: 10}
	td.Cmp(t, recovery.Find("juniper", []vitals.Exam{second}), td.Len(1))
	second.Purpose = vitals.Recheck
	td.Cmp(t, Last(b, []vitals.Exam{second}), td.Empty())

	looks := hearts(10, 44, 49, 52, 57)
	looks[1].State = vitals.State{Condition: vitals.Excited, Also: []vitals.Condition{vitals.Medicated}}
	w := watchHeart(t, b, looks)
	td.Cmp(t, w.Warnings, td.SuperBagOf(baseline.Warning{Key: WarnWatchMedicated}, baseline.Warning{Key: WarnWatchExcited}))
}

// Rechecks and recoveries answer why as well.
func TestWhyOfWatchAndRecovery(t *testing.T) {
	t.Parallel()
	whole := func(said []string) string {
		t.Helper()
		text := strings.Join(said, "\n")
		td.Cmp(t, text, td.All(td.Not(td.Contains("{")), td.Not(td.Contains("why.")), td.Not("")))
		t.Log(text)
		return text
	}
	b := juniper(quietHeart(6, 34, 37, 35))
	for _, lang := range words.Langs() {
		for _, w := range Last(b, hearts(15, 44, 48, 52, 57)) {
			whole(w.Why(lang))
		}
		for _, w := range Last(juniper(nil), append(hearts(15, 44, 44), recheck(90, gut("upper-left", "less")))) {
			whole(w.Why(lang))
		}
	}
	rising := Last(b, hearts(15, 44, 48, 52, 57))[0]
	td.Cmp(t, whole(rising.Why(words.English)), td.Contains("comes from 6 of this horse’s own quiet-day exams"))
	var after []vitals.Exam
	for i, n := range []int{90, 70, 60} {
		e := recheck(0, beats(n))
		e.ID, e.At = vitals.ID("after-"+strconv.Itoa(i)), watchNight.Add(time.Duration(10*i)*time.Minute)
		e.Purpose, e.State = vitals.Recovery, vitals.State{Condition: vitals.AfterWork, SinceMinutes: 2 + 10*i, Effort: vitals.Moderate}
		after = append(after, e)
	}
	for _, r := range recovery.Find("juniper", after) {
		td.Cmp(t, whole(r.Why(words.English)), td.Contains("counts (of 3)"))
	}
}
