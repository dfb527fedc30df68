package report

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Every sign of the record stands once, with its latest value; what is usual is what Normal and the answers of the exams say.
func TestNormalIsOfTheRecord(t *testing.T) {
	t.Parallel()
	horse, b := demo(t, "demo-juniper")
	at := time.Date(2027, 1, 1, 8, 0, 0, 0, time.UTC)
	for _, lang := range words.Langs() {
		rows := Normal(b, b.Known(at), horse, at, lang)
		td.Cmp(t, len(rows) > 10, true)
		seen := map[string]bool{}
		for _, r := range rows {
			key := string(r.Sign + "/" + vitals.SignID(r.Site))
			td.Cmp(t, seen[key], false, key)
			seen[key] = true
			all := b.Past(r.Sign, r.Site, 1000)
			last := all[len(all)-1]
			told := Told(all, nil, horse, lang)
			td.Cmp(t, r.Value, told.Rows[0].Value, key)
			td.Cmp(t, r.Name != "" && r.At.Equal(last.At), true, key)
			if last.Compared.Measure == nil {
				td.Cmp(t, r.Lane, "", key)
				continue
			}
			normal, ok := b.Normal(r.Sign, r.Site, at)
			td.Cmp(t, r.Usual != "", ok && normal.Basis.Exams > 0, key)
			td.Cmp(t, strings.Count(r.Lane, `r="8"`), 1, key)
		}
	}
	heart := Normal(b, b.Known(at), horse, at, words.English)
	for _, r := range heart {
		if r.Sign == vitals.HeartRate {
			n, _ := b.Normal(vitals.HeartRate, "", at)
			td.Cmp(t, r.Usual, strconv.FormatFloat(n.Own.Low, 'f', 0, 64)+" to "+strconv.FormatFloat(n.Own.High, 'f', 0, 64)+" a minute")
			td.Cmp(t, r.Exams, n.Basis.Exams)
		}
	}
}

// A finding inside what is usual is drawn inside the hatched middle, one outside it outside.
func TestLanePlacesWhatIsUsualInTheMiddle(t *testing.T) {
	t.Parallel()
	horse, b := demo(t, "demo-juniper")
	at := time.Date(2027, 1, 1, 8, 0, 0, 0, time.UTC)
	last := regexp.MustCompile(`<circle cx="[\d.]+" cy="([\d.]+)" r="8"`)
	tried := 0
	known := b.Known(at)
	for _, r := range Normal(b, known, horse, at, words.English) {
		if r.Lane == "" || r.Usual == "" {
			continue
		}
		past := b.Latest(r.Sign, r.Site, 1)
		for _, k := range known.Signs {
			if k.Sign != r.Sign || k.Site != r.Site {
				continue
			}
			y, err := strconv.ParseFloat(last.FindStringSubmatch(r.Lane)[1], 64)
			td.CmpNoError(t, err)
			v := past[0].Compared.Measure.Value
			td.Cmp(t, y <= laneBottom+.05 && y >= laneTop-.05, v >= k.Own.Low && v <= k.Own.High, string(r.Sign))
			tried++
		}
	}
	td.Cmp(t, tried > 3, true)
}

// A horse without a record has no line, and nothing that is not its own is called its usual.
func TestNormalOfNothing(t *testing.T) {
	t.Parallel()
	horse, b := demo(t, "demo-juniper")
	early := b.Exams()[0].At
	td.Cmp(t, len(Normal(b, b.Known(early), horse, early, words.English)) > 0, true)
	for _, r := range Normal(b, b.Known(early), horse, early, words.English) {
		td.Cmp(t, r.Usual, "", string(r.Sign))
	}
}
