package report_test

import (
	"encoding/xml"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func TestCourse(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 2, 10, 0, 0, time.FixedZone("", 7200))
	w := watch.Watched{Sign: vitals.HeartRate, Unit: vitals.PerMinute, Own: &baseline.Interval{Low: 29, Mid: 34, High: 39}, Basis: &baseline.Basis{Exams: 11}}
	for i, v := range []float64{52, 57, 60} {
		m := float64(15 * i)
		w.Points = append(w.Points, watch.WatchedPoint{At: at.Add(time.Duration(m) * time.Minute), Minutes: m, Measure: vitals.Measure{Value: v, SD: 1, Unit: vitals.PerMinute}, Line: v})
	}
	svg := report.Course(w, words.English)
	td.CmpNoError(t, xml.Unmarshal([]byte(svg), new(struct{})))
	for _, part := range []string{">52<", ">57<", ">60<", ">2:10 am<", ">2:40 am<", "usual 29 to 39", "2:10 am: 52 a minute, 2:25 am: 57 a minute and 2:40 am: 60 a minute."} {
		td.Cmp(t, svg, td.Contains(part))
	}
	td.Cmp(t, strings.Count(svg, "<circle"), 3)
	td.Cmp(t, svg, td.Not(td.Contains("style=")), "the page's policy forbids inline styles")
	w.Basis.Exams = 0
	td.Cmp(t, report.Course(w, words.English), td.Contains("usual for this kind"))
	// Nothing to draw, and figures of no use.
	td.Cmp(t, report.Course(watch.Watched{Sign: vitals.GumColour}, words.English), "")
	w.Points[1].Value /= 0.0 * w.Points[1].Minutes
	td.Cmp(t, report.Course(w, words.English), "")
	// Forty readings: a figure never stands on another.
	w.Points = nil
	for i := range 40 {
		w.Points = append(w.Points, watch.WatchedPoint{At: at, Minutes: float64(i), Measure: vitals.Measure{Value: 40 + float64(i), SD: 1, Unit: vitals.PerMinute}})
	}
	td.Cmp(t, strings.Count(report.Course(w, words.English), `font-weight="bold"`), td.Between(5, 14))
	w.Points = w.Points[:1]
	td.Cmp(t, report.Course(w, words.English), td.Contains(">40<"))
}

func TestCurve(t *testing.T) {
	t.Parallel()
	r := recovery.Recovery{Heart: []recovery.RecoveryPoint{{Minutes: 2, Rate: 92, SD: 2}, {Minutes: 10.4, Rate: 60, SD: 2}}}
	svg := report.Curve(r, words.English)
	td.CmpNoError(t, xml.Unmarshal([]byte(svg), new(struct{})))
	for _, part := range []string{">92<", ">60<", ">64<", ">56<", ">2 min<", ">10 min<"} {
		td.Cmp(t, svg, td.Contains(part))
	}
	td.Cmp(t, report.Curve(recovery.Recovery{}, words.English), "")
}
