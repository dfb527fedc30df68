package watch

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// A series begins with the exam that its rechecks name, whatever that one was for, and
// ends before a pause of more than 12 hours.
func TestWatchFrom(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(8, 34, 37, 35, 36))
	exams := hearts(10, 44, 49, 52, 57)
	exams[0].Purpose = vitals.Routine
	for i := range exams[1:] {
		exams[i+1].RecheckOf = exams[0].ID
	}
	late := recheck(24*60, beats(40))
	exams = append(exams, late)
	w := watchedSign(From(b, exams[0].ID, exams), vitals.HeartRate)
	td.Cmp(t, w.Points, td.Len(4))
	td.Cmp(t, w.Say(words.English)[0], "Heart rate: 44, 49, 52, 57 a minute in 30 minutes, rising by about 4 a minute every 10 minutes.")
	td.Cmp(t, w.Own, td.Struct(&baseline.Interval{}, td.StructFields{"Low": td.Between(28., 34.), "Mid": td.Between(34., 37.), "High": td.Between(37., 44.)}))
	// Without a name the last series is the one after the pause.
	td.Cmp(t, watchedSign(Last(b, exams), vitals.HeartRate).Points, td.Len(1))
	// The routine exam belongs to Watch too, because rechecks name it.
	td.Cmp(t, watchedSign(Last(b, exams[:4]), vitals.HeartRate).Points, td.Len(4))
	// From a later one, and from one that nobody has.
	td.Cmp(t, watchedSign(From(b, exams[2].ID, exams), vitals.HeartRate).Points, td.Len(2))
	td.Cmp(t, From(b, "nobody", exams), td.Empty())
	work := exams[0]
	work.State.Condition = vitals.AfterWork
	td.Cmp(t, From(b, work.ID, []vitals.Exam{work}), td.Empty())
	td.Cmp(t, exams[0].Purpose, vitals.Routine, "the caller's exam is as it was")
}

func watchedSign(ws []Watched, sign vitals.SignID) Watched {
	for _, w := range ws {
		if w.Sign == sign {
			return w
		}
	}
	return Watched{}
}

// A temperature read in Fahrenheit is told so: 9/5 of every difference, the zero at 32.
func TestWatchedInFahrenheit(t *testing.T) {
	t.Parallel()
	b := juniper(nil)
	var exams []vitals.Exam
	for i, r := range []string{"38.0", "38.6", "39.2", "39.8", "40.2", "40.6"} {
		exams = append(exams, recheck(30*i, warm(r)))
	}
	c := watchedSign(Last(b, exams), vitals.RectalTemperature)
	f := c.In(vitals.Fahrenheit)
	td.Cmp(t, f.Points[0].Value, td.Between(100.39, 100.41))
	td.Cmp(t, f.Points[5].Measure, td.Struct(vitals.Measure{Unit: vitals.Fahrenheit}, td.StructFields{"Value": td.Between(105.07, 105.09), "SD": td.Between(1.79*c.Points[5].SD, 1.81*c.Points[5].SD)}))
	nearTo(t, f.Slope.PerHour, 1.8*c.Slope.PerHour, 1e-9)
	nearTo(t, f.Robust.PerHour, 1.8*c.Robust.PerHour, 1e-9)
	nearTo(t, f.Own.High-f.Own.Low, 1.8*(c.Own.High-c.Own.Low), 1e-9)
	td.Cmp(t, f.Say(words.English)[0], td.Contains("°F every hour"))
	td.Cmp(t, c.Unit, vitals.Celsius, "the first is as it was")
	td.Cmp(t, c.Points[0].Value, td.Between(37.99, 38.01))
	heart := watchHeart(t, b, hearts(10, 40, 41, 42))
	td.Cmp(t, heart.In(vitals.Fahrenheit), heart)
}
