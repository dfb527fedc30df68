package watch

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

var watchNight = time.Date(2025, 6, 2, 1, 40, 0, 0, time.UTC)

// recheck is an exam so many minutes into the night.
func recheck(minutes int, findings ...vitals.Finding) vitals.Exam {
	return vitals.Exam{
		ID: vitals.ID(fmt.Sprint("night-", minutes)), Horse: "juniper", At: watchNight.Add(time.Duration(minutes) * time.Minute), Status: vitals.Finished,
		Purpose: vitals.Recheck, Wellness: vitals.Unwell, State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full, Findings: findings,
	}
}

func beats(perMinute int) vitals.Finding {
	return vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: perMinute, Seconds: 60, Start: vitals.Anywhere}}
}

func gut(site vitals.SiteID, g vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: vitals.GutSounds, Site: site, Chosen: []vitals.GradeID{g}}
}

func warm(reading string) vitals.Finding {
	return vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.RequireFromString(reading), Unit: vitals.Celsius, Device: vitals.Digital}}
}

func hearts(everyMinutes int, perMinute ...int) []vitals.Exam {
	var out []vitals.Exam
	for i, n := range perMinute {
		out = append(out, recheck(i*everyMinutes, beats(n)))
	}
	return out
}

func watchHeart(t *testing.T, b *baseline.Baseline, exams []vitals.Exam) Watched {
	t.Helper()
	ws := Last(b, exams)
	i := slices.IndexFunc(ws, func(w Watched) bool { return w.Sign == vitals.HeartRate })
	if i < 0 {
		t.Fatal("no heart rate watched")
	}
	return ws[i]
}

func TestWatchSaysTheDirection(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(8, 34, 37, 35, 36))
	for _, c := range []struct {
		name  string
		exams []vitals.Exam
		trend Trend
		said  string
	}{
		{"rising", hearts(10, 44, 49, 52, 57), Rising, "Heart rate: 44, 49, 52, 57 a minute in 30 minutes, rising by about 4 a minute every 10 minutes."},
		{"falling", hearts(10, 60, 55, 52, 47, 44), Falling, "Heart rate: 60, 55, 52, 47, 44 a minute in 40 minutes, falling by about 4 a minute every 10 minutes."},
		{"none", hearts(10, 44, 46, 45, 44), NoTrendShown, "Heart rate: 44, 46, 45, 44 a minute in 30 minutes. No clear direction yet: a change of 3 a minute every 10 minutes would have shown 4 times in 5."},
		{"slow", hearts(10, 44, 45, 46, 48, 49, 50), Rising, "Heart rate: 44, 45, 46, 48, 49, 50 a minute in 50 minutes, rising by about 1.3 a minute every 10 minutes."},
		{"two", hearts(10, 44, 52), TooFew, "Heart rate: 44, 52 a minute. Too few to show a direction: it takes 3 different times."},
		{"three alike", hearts(10, 44, 44, 44), NoTrendShown, "Heart rate: 44, 44, 44 a minute in 20 minutes. No clear direction yet: a change of 4 a minute every 10 minutes would have shown 4 times in 5."},
		{"hours", hearts(60, 44, 47, 50, 53, 56), Rising, "Heart rate: 44, 47, 50, 53, 56 a minute in 4 hours, rising by about 3 a minute every hour."},
		{"each higher", hearts(10, 59, 60, 61), NoTrendShown, "Heart rate: 59, 60, 61 a minute in 20 minutes, higher each time."},
		{"each lower", hearts(10, 61, 60, 59), NoTrendShown, "Heart rate: 61, 60, 59 a minute in 20 minutes, lower each time."},
		{"many", hearts(10, 44, 45, 44, 46, 44, 45, 46), NoTrendShown, "Heart rate: 44 … 46 a minute in 60 minutes. No clear direction yet: a change of 8 a minute every hour would have shown 4 times in 5."},
	} {
		w := watchHeart(t, b, c.exams)
		td.Cmp(t, w.Trend, c.trend, c.name)
		td.Cmp(t, w.Say(words.English)[0], c.said, c.name)
	}
}

// With no quiet exam of its own the same course is told with the assumed SD, and says so.
func TestWatchWithoutOwnExams(t *testing.T) {
	t.Parallel()
	w := watchHeart(t, juniper(nil), hearts(10, 44, 60, 76, 92))
	td.Cmp(t, w.Trend, Rising)
	td.Cmp(t, w.Warnings, td.Contains(baseline.Warning{Key: WarnWatchOwn}))
	td.Cmp(t, w.Basis.Exams, 0)
}

func TestWatchRobustFromSix(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(8, 34, 37, 35, 36))
	td.Cmp(t, watchHeart(t, b, hearts(10, 44, 46, 48, 50, 52)).Robust, (*RobustSlope)(nil))
	w := watchHeart(t, b, hearts(10, 44, 46, 48, 50, 52, 54))
	// All 15 pairs rise: exact two-sided p 2/6! = .00278; every slope is 12 an hour.
	td.Cmp(t, w.Robust, td.Struct(&RobustSlope{S: 15}, td.StructFields{
		"P": td.Between(2./720-1e-12, 2./720+1e-12), "PerHour": td.Between(12-1e-9, 12+1e-9)}))
	// One slip of the finger makes a slope, and the middle of all slopes does not agree.
	w = watchHeart(t, b, hearts(10, 44, 45, 44, 45, 44, 45, 99))
	td.Cmp(t, w.Warnings, td.Contains(baseline.Warning{Key: WarnWatchOneReading}))
	// Up and down again: no direction, and the readings say that they moved.
	w = watchHeart(t, b, hearts(10, 40, 50, 60, 70, 60, 50, 40))
	td.Cmp(t, w.Trend, NoTrendShown)
	td.Cmp(t, w.Warnings, td.Contains(baseline.Warning{Key: WarnWatchUneven}))
}

// Sen's (1968) example through the whole path: readings at 1, 2, 3, 4, 10, 12 and 18 hours, here as
// heart rates 30 higher, have the slope 4 an hour, S = 21 and p = 2/5040; and Hollander,
// Wolfe and Chicken's example 9.1 as temperatures: S = -6, but five are too few to say it.
func TestWatchPublishedSeries(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(8, 34, 37, 35, 36))
	var exams []vitals.Exam
	for i, h := range []int{1, 2, 3, 4, 10, 12, 18} {
		exams = append(exams, recheck(60*h, beats(30+[]int{9, 15, 19, 20, 45, 55, 78}[i])))
	}
	w := watchHeart(t, b, exams)
	td.Cmp(t, w.Robust, td.Struct(&RobustSlope{S: 21}, td.StructFields{
		"P": td.Between(2./5040-1e-12, 2./5040+1e-12), "PerHour": td.Between(4-1e-9, 4+1e-9)}))
	td.Cmp(t, w.Trend, Rising)

	exams = nil
	for i, r := range []string{"37.26", "37.27", "37.12", "37.16", "37.03"} {
		exams = append(exams, recheck(60*(i+1), warm(r)))
	}
	w = Last(b, exams)[0]
	td.Cmp(t, w.Robust, (*RobustSlope)(nil))
	td.Cmp(t, w.Trend, NoTrendShown)
}

func TestWatchGraded(t *testing.T) {
	t.Parallel()
	exams := []vitals.Exam{
		recheck(0, gut("upper-right", "usual"), gut("lower-right", "usual")),
		recheck(30, gut("upper-right", "less"), gut("lower-right", "usual")),
		recheck(60, gut("upper-right", "none"), vitals.Finding{Sign: vitals.GutSounds, Site: "lower-right", Absent: vitals.CouldNot}),
		recheck(90, gut("upper-right", "less"), gut("lower-right", "usual")),
	}
	sign, _ := vitals.Lookup(vitals.GutSounds)
	upper, lower := sign.Sites[0].ID, sign.Sites[1].ID
	for i := range exams {
		for k := range exams[i].Findings {
			exams[i].Findings[k].Site = []vitals.SiteID{upper, lower}[k]
		}
	}
	ws := Last(juniper(nil), exams)
	td.Cmp(t, ws, td.Len(2))
	var steps []vitals.Course
	for _, a := range ws[0].Answers {
		steps = append(steps, a.Step)
	}
	td.Cmp(t, steps, []vitals.Course{"", vitals.Worse, vitals.Worse, vitals.Better})
	td.Cmp(t, ws[0].Course, vitals.Worse)
	td.Cmp(t, ws[1].Course, vitals.Same)
	// "Could not" is missing, not usual.
	td.Cmp(t, ws[1].Answers, td.Len(3))
	td.Cmp(t, ws[1].Missing, 1)
	said := strings.Join(ws[1].Say(words.English), " ")
	td.CmpTrue(t, strings.Contains(said, "The same as at the first exam. Not checked in 1 of the exams."), said)
}

// A watch through the evening: the daily rhythm alone must not be told as a rise.
func TestWatchTakesTheHourIntoAccount(t *testing.T) {
	t.Parallel()
	morning := time.Date(2025, 6, 2, 9, 0, 0, 0, time.UTC)
	var quiet, watched []vitals.Exam
	for i := range 10 {
		e := quietHeart(1, 35)[0]
		e.ID, e.At = vitals.ID(fmt.Sprint("q", i)), morning.AddDate(0, 0, -5*(i+1))
		e.Findings = []vitals.Finding{warm([]string{"37.5", "37.6"}[i%2])}
		quiet = append(quiet, e)
	}
	for i, r := range []string{"37.5", "37.6", "37.7", "37.8", "37.9", "38.0"} {
		e := recheck(0, warm(r))
		e.ID, e.At = vitals.ID(fmt.Sprint("w", i)), morning.Add(time.Duration(i*2)*time.Hour)
		watched = append(watched, e)
	}
	w := Last(juniper(quiet), watched)[0]
	td.Cmp(t, w.Trend, NoTrendShown, w.Say(words.English))
	// The same readings within one hour of the day are a rise.
	for i := range watched {
		watched[i].At = morning.Add(time.Duration(i*12) * time.Minute)
	}
	td.Cmp(t, Last(juniper(quiet), watched)[0].Trend, Rising)
}

func TestWatchLeavesOut(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(4, 34, 37))
	exams := hearts(10, 44, 49, 52, 57)
	with := func(change func(*vitals.Exam)) []vitals.Exam {
		e := recheck(15, beats(120))
		change(&e)
		return append(slices.Clone(exams), e)
	}
	want := watchHeart(t, b, exams)
	for name, change := range map[string]func(*vitals.Exam){
		"another horse": func(e *vitals.Exam) { e.Horse = "x" },
		"a draft":       func(e *vitals.Exam) { e.Status = vitals.Draft },
		"after work":    func(e *vitals.Exam) { e.State.Condition = vitals.AfterWork },
		"learning":      func(e *vitals.Exam) { e.Purpose = vitals.Learning },
		"without time":  func(e *vitals.Exam) { e.At = time.Time{} },
		"given twice":   func(e *vitals.Exam) { *e = exams[1] },
	} {
		td.Cmp(t, watchHeart(t, b, with(change)), want, name)
	}
	before := watchHeart(t, b, with(func(e *vitals.Exam) { e.At = watchNight.Add(-13 * time.Hour) }))
	td.Cmp(t, before.Points, td.Len(4))
	td.Cmp(t, before.Warnings, td.Contains(baseline.Warning{Key: WarnWatchEarlier, Args: []string{"n", "1"}}))
	td.Cmp(t, Last(b, nil), td.Empty())
	drugged := watchHeart(t, b, with(func(e *vitals.Exam) { e.State.Condition = vitals.Medicated }))
	td.Cmp(t, drugged.Warnings, td.Contains(baseline.Warning{Key: WarnWatchMedicated}))
}

// The order of the exams, a shift in time by whole weeks, odd values: same answer, no panic.
func TestWatchProperties(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(5, 34, 37, 35))
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 7).Draw(t, "n")
		var exams []vitals.Exam
		for i := range n {
			f := beats(rapid.IntRange(-1, 300).Draw(t, "events"))
			f.Count.Seconds = rapid.SampledFrom([]int{-1, 0, 15, 30, 60}).Draw(t, "seconds")
			e := recheck(rapid.IntRange(0, 600).Draw(t, "minutes"), f, vitals.Finding{Sign: "no-such-sign"}, vitals.Finding{Sign: vitals.GutSounds, Chosen: []vitals.GradeID{"?"}})
			e.ID = vitals.ID(fmt.Sprint(i))
			exams = append(exams, e)
		}
		want := Last(b, exams)
		rng := rand.New(rand.NewPCG(1, 2))
		mixed := slices.Clone(exams)
		rng.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		if !td.EqDeeply(Last(b, mixed), want) {
			t.Fatal("order matters")
		}
		for i := range mixed {
			mixed[i].At = mixed[i].At.AddDate(0, 0, 1)
		}
		moved := Last(b, mixed)
		for i := range want {
			if moved[i].Trend != want[i].Trend || (moved[i].Slope == nil) != (want[i].Slope == nil) ||
				want[i].Slope != nil && *moved[i].Slope != *want[i].Slope {
				t.Fatalf("a day later: %+v, %+v", moved[i].Slope, want[i].Slope)
			}
			for _, s := range want[i].Say(words.English) {
				if strings.ContainsAny(s, "{}") || strings.HasPrefix(s, "watch.") {
					t.Fatalf("unfilled: %s", s)
				}
			}
		}
	})
}
