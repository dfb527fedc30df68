package api

import (
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	gotypes "go/types"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Every row names a work, or says that there is none and why.
func TestEveryFigureHasItsSource(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		figures := makeFigures(lang)
		rows := 0
		for _, part := range figures.Parts {
			td.CmpNot(t, part.Rows, td.Empty(), part.Heading)
			for _, r := range part.Rows {
				rows++
				for _, text := range []string{part.Heading, r.What, r.Figure, r.For, r.Mark} {
					if strings.Contains(text, "figures.") || strings.Contains(text, "mark.") || strings.ContainsAny(text, "{}") {
						t.Errorf("%s: no words: %q", lang, text)
					}
				}
				td.CmpNot(t, r.Mark, "", "%+v", r)
				practice := r.Mark == words.Say(lang, "mark.common-practice") || r.Mark == words.Say(lang, "mark.assumed") || r.Mark == words.Say(lang, "mark.derived")
				if r.Work == 0 && !practice {
					t.Errorf("%s: %q has no source and does not say so", lang, r.What)
				}
				if r.Work > len(figures.Works) || r.Work > 0 && figures.Works[r.Work-1] == "" {
					t.Errorf("%s: %q names no work", lang, r.What)
				}
			}
		}
		t.Logf("%s: %d figures, %d works", lang, rows, len(figures.Works))
	}
}

// The tables behind the page are whole: whatever in them has a provenance is a row.
func TestNoProvenanceIsLeftOut(t *testing.T) {
	t.Parallel()
	shown := map[string]int{}
	for _, part := range makeFigures(words.English).Parts {
		for _, r := range part.Rows {
			shown[r.Mark+"|"+r.Note]++
		}
	}
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Struct:
			if p, ok := v.Interface().(vitals.Provenance); ok {
				if key := words.Say(words.English, "mark."+string(p.Mark)) + "|" + p.Note; shown[key] == 0 {
					t.Errorf("not on the page of sources: %+v", p)
				}
				return
			}
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					walk(v.Field(i))
				}
			}
		}
	}
	for _, table := range []any{vitals.Catalogue(), vitals.Alarms(), vitals.Cautions(), vitals.Tolerances(), vitals.Girths(),
		vitals.Heart(), vitals.Breath(), vitals.Figures(), baseline.AssumedSpans(), baseline.AssumedFigures(), watch.AssumedFigures(), recovery.Criteria(), recovery.TrotDefinitions()} {
		walk(reflect.ValueOf(table))
	}
}

// computing are the constants that no user meets: bounds of what is read, and what only a
// computation needs, whose error another test measures.
var computing = map[string]string{
	"watch.listed": "how many readings of a series are said one by one",
	"vitals.MaxID": "bound of a text", "vitals.MaxQuestion": "bound of a text", "vitals.MaxAsked": "bound of a list", "vitals.MaxName": "bound of a text", "vitals.MaxNote": "bound of a text",
	"vitals.MaxMinutes": "bound of a list", "vitals.MaxTaps": "bound of a list", "vitals.MaxTries": "bound of a list", "vitals.MaxEvents": "bound of a count",
	"vitals.MaxTrotMetres": "bound of an entry", "vitals.MaxTrotSeconds": "bound of an entry", "vitals.MaxCentiSeconds": "bound of an entry",
	"vitals.MinCountWindow": "bound of an entry", "vitals.MaxCountWindow": "bound of an entry", "vitals.MaxDigits": "bound of an entry",
	"vitals.minTape": "bound of an entry", "vitals.MaxCallAlarms": "bound of a list", "vitals.MaxUnknown": "bound of a list", "vitals.MaxUnknownBytes": "bound of a text", "vitals.BroodDays": "when a question is asked", "vitals.minutesUnknown": "told with the rules of work", "vitals.maxTape": "bound of an entry", "vitals.maxShown": "bound of a conversion", "vitals.mostSigns": "bound of a list",
	"vitals.twoThirds": "quantile of the normal distribution", "vitals.z95": "quantile of the normal distribution", "normal.Z975": "quantile of the normal distribution", "normal.Z95": "quantile of the normal distribution",
	"vitals.unevenIn": "told with taps-uneven", "vitals.caution": "coverage is simulated", "vitals.proportions": "error is tested", "vitals.scaleDegrees": "coverage is simulated", "vitals.scaleShare": "coverage is simulated",
	"normal.sqrt2Pi": "mathematics", "normal.InvSqrt2Pi": "mathematics", "normal.Log2Pi": "mathematics",
	"level.maxSecondDifference": "error is tested", "level.reachOut": "of speed only", "level.maxHalfDifference": "error is tested", "level.secondDifferenceWithin": "error is tested", "level.roughNegligible": "error is tested", "level.StillBelow": "error is tested", "level.checkpoint": "of speed only", "level.GridReach": "error is tested", "level.fineFrom": "error is tested", "normal.tailSteps": "error is tested", "normal.tailReach": "error is tested", "normal.limitReach": "error is tested", "normal.Negligible": "error is tested", "normal.limitError": "error is tested", "level.LogConverged": "error is tested",
	"baseline.planFine": "error is tested", "baseline.planCoarse": "error is tested", "baseline.planMost": "bound of a loop", "baseline.practiceExams": "length of a plan",
	"recovery.levels": "error is tested", "recovery.sigmas": "error is tested",
	"baseline.ratioWarmth": "told with the spread of temperature", "baseline.inflation": "coverage is simulated", "baseline.rhythmAmplitudeSD": "told with the rhythm",
	"baseline.farMost":     "false alarms are simulated",
	"vitals.MaxTapMinutes": "bound of an entry", "vitals.MaxPlaces": "bound of an entry", "vitals.MinTaps": "bound of an entry", "vitals.lnLikelier": "coverage is simulated", "vitals.pausesLikelier": "false alarms are simulated",
	"vitals.thirdOfF": "told with the devices",
	"level.FarShare":  "told with bad-day-spread", "level.FarShift": "told with bad-day-spread", "level.FarSpread": "told with bad-day-spread",
	"level.visitSlack": "of rounding", "level.leastNoise": "of rounding", "level.WaysMost": "bound of a list",
	"baseline.HerdLeast": "of what is shown", "baseline.mostHorses": "bound of an entry", "level.EvidenceUnit": "of rounding", "level.EvidenceMost": "bound of an entry", "level.herdSteps": "error is tested",
	"level.herdMiddleSD": "coverage is simulated", "level.herdTauSD": "coverage is simulated", "level.herdSigmaSD": "coverage is simulated",
	"level.SlipShare": "told with bad-day-spread", "level.SlipSpread": "told with bad-day-spread", "level.asItWas": "error is tested", "normal.heavyScale": "quantile of distributions",
	"whole.Worth": "false alarms are simulated", "baseline.countedFrom": "false alarms are simulated", "baseline.countedMost": "false alarms are simulated",
	"level.Early": "told with early-days", "level.Walk": "told as walk-years", "baseline.grownDays": "told as grown-years", "baseline.stale": "told as stale-share",
	"vitals.maxFaults": "bound of a list", "baseline.askMost": "bound of a loop", "baseline.fitRule": "a version", "baseline.trainingSetsKept": "of speed only",
	"level.LogNegligible": "error is tested", "level.OutwardFrom": "of speed only", "baseline.mostFigure": "no reading of a record is as large", "baseline.leastFigure": "nor as small", "level.foldEvery": "error is tested", "level.logDoubtful": "error is tested", "level.sweeps": "error is tested",
	"baseline.teachingNodes": "error is tested", "watch.kendallExact": "exact below, normal above", "level.defaultSpan": "the same as spanDays",
}

// onPage are the constants that the page of sources tells, by the figure.
var onPage = map[string]string{
	"vitals.AloudPace": "aloud-pace", "baseline.askBase": "new-usual-base",
	"vitals.settledMinutes":        "settled-minutes",
	"vitals.settledEasy":           "settled-easy",
	"vitals.countsWithin":          "counts-within",
	"vitals.againExcited":          "excited-minutes",
	"vitals.maskedHours":           "masked-hours",
	"vitals.hotAir":                "hot-air",
	"vitals.coldAir":               "cold-air",
	"vitals.rhythmFrom":            "rhythm-pairs",
	"vitals.irregularFrom":         "rhythm-irregular",
	"vitals.unevenness":            "taps-uneven",
	"vitals.shortest":              "taps-shortest",
	"baseline.alpha":               "unusual-in",
	"baseline.trendAlpha":          "trend-in",
	"level.TrendLeast":             "trend-least",
	"level.TrendOver":              "trend-over",
	"level.Omega":                  "known-twofold",
	"baseline.spanDays":            "wander-days",
	"baseline.rhythmAmplitude":     "rhythm-amplitude",
	"baseline.rhythmFrom":          "rhythm-from",
	"baseline.rhythmTo":            "rhythm-to",
	"baseline.rhythmDays":          "rhythm-days",
	"grade.Weight":                 "grade-weight",
	"level.BadDayShift":            "bad-day-shift",
	"level.BadDaySpread":           "bad-day-spread",
	"baseline.farCorrelation":      "together",
	"baseline.askAbove":            "ask-above",
	"baseline.fewTries":            "few-tries",
	"level.Steady":                 "steady-share",
	"level.EarlyDays":              "early-days",
	"level.VisitHours":             "visit-hours",
	"baseline.betweenThermometers": "between-thermometers", "baseline.betweenCounters": "between-counters", "baseline.betweenTimers": "between-timers",
	"baseline.askDays":          "new-usual-days",
	"baseline.firstSmall":       "first-small",
	"baseline.askEach":          "new-usual-each",
	"baseline.askTogether":      "new-usual-together",
	"level.Renewed":             "new-usual-renewed",
	"watch.leastMoments":        "watch-least",
	"watch.falseRate":           "watch-in",
	"watch.unevenLevel":         "watch-uneven",
	"watch.power":               "watch-power",
	"watch.robustLeast":         "robust-from",
	"baseline.planGoal":         "plan-goal",
	"baseline.ownFeverExams":    "own-fever-exams",
	"baseline.ownFeverMinutes":  "own-fever-minutes",
	"baseline.ownHeartExams":    "own-heart-exams",
	"baseline.ownHeartMinutes":  "own-heart-minutes",
	"baseline.ownHeartPercent":  "own-heart",
	"baseline.ownBreathPercent": "own-breath",
	"baseline.ownBreathMinutes": "own-breath-minutes",
	"baseline.ownRefillPercent": "own-refill",
	"baseline.ownRefillFrom":    "own-refill-from",
	"baseline.ownRefillMinutes": "own-refill-minutes",
	"vitals.risingLooks":        "rising-looks",
	"vitals.risingHeart":        "rising-heart",
	"vitals.risingBreath":       "rising-breath",
	"vitals.risingWarmth":       "rising-warmth",
	"baseline.ownWeightExams":   "own-weight-exams",
	"baseline.ownWeightPercent": "own-weight",
	"baseline.ownWeightFrom":    "own-weight-from",
	"baseline.ownWeightTo":      "own-weight-to",
	"vitals.heldHours":          "held-hours",
	"vitals.ViolentPain":        "violent-pain",
	"vitals.mostYears":          "most-years",
}

// Every other number written down in the code of the two lower floors is on the page of sources.
func TestEveryConstantIsOnThePage(t *testing.T) {
	t.Parallel()
	figures := map[string]float64{}
	for _, f := range slices.Concat(vitals.Figures(), baseline.AssumedFigures(), watch.AssumedFigures()) {
		figures[f.ID] = f.Figure
	}
	used := map[string]bool{}
	for _, folder := range []string{"../../vitals", "../../baseline", "../../baseline/internal/*", "../../baseline/recovery", "../../baseline/watch"} {
		files, err := filepath.Glob(folder + "/*.go")
		td.Require(t).CmpNoError(err)
		td.Require(t).Cmp(files, td.NotEmpty())
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
			td.Require(t).CmpNoError(err)
			for _, d := range file.Decls {
				decl, ok := d.(*ast.GenDecl)
				if !ok || decl.Tok != token.CONST {
					continue
				}
				for _, s := range decl.Specs {
					spec := s.(*ast.ValueSpec)
					for i, value := range spec.Values {
						text := gotypes.ExprString(value)
						got, err := gotypes.Eval(set, nil, token.NoPos, text)
						if err != nil || got.Value == nil || got.Value.Kind() == constant.String || slices.Contains([]string{"0", "1", "2"}, text) {
							continue // of other constants, or no figure
						}
						x, _ := constant.Float64Val(constant.ToFloat(got.Value))
						key := file.Name.Name + "." + spec.Names[i].Name
						used[key] = true
						if figure, ok := figures[onPage[key]]; ok {
							td.Cmp(t, figure, x, "%s and figures.%s", key, onPage[key])
						} else if computing[key] == "" {
							t.Errorf("%s: %s = %s is neither on the page of sources nor said to be of the computation only", set.Position(spec.Pos()), key, text)
						}
					}
				}
			}
		}
	}
	for key := range computing {
		td.CmpTrue(t, used[key], "%s is no constant any more", key)
	}
}
