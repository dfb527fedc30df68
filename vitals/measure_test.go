package vitals

import (
	"errors"
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"whorl.example/vitals/words"
)

// measure takes a finding of a sign.
func measureOf(t *testing.T, f Finding) (Measure, error) {
	t.Helper()
	return f.Measure(mustSign(t, f.Sign))
}

func TestMeasure(t *testing.T) {
	t.Parallel()
	read := func(sign SignID, value string, unit Unit, device Device) Finding {
		return Finding{Sign: sign, Reading: &Reading{Value: dec(value), Unit: unit, Device: device}}
	}
	for _, x := range []struct {
		name string
		f    Finding
		want Measure
	}{
		// A count: (60/T)·√(1/6 + 0.03²·n).
		{"9 in 15 s, anywhere", Finding{Sign: HeartRate, Count: &Count{9, 15, Anywhere}}, Measure{36, 4 * math.Sqrt(1.0/6+0.0081), PerMinute}},
		{"9 in 15 s, on a beat", Finding{Sign: HeartRate, Count: &Count{9, 15, OnBeat}}, Measure{38, 4 * math.Sqrt(1.0/12+0.00855), PerMinute}},
		{"36 in 60 s", Finding{Sign: HeartRate, Count: &Count{36, 60, Anywhere}}, Measure{36, math.Sqrt(1.0/6 + 0.0324), PerMinute}},
		{"no breath in 15 s", Finding{Sign: RespiratoryRate, Count: &Count{0, 15, Anywhere}}, Measure{0, 4 / math.Sqrt(6), PerMinute}},
		{"breaths vary more", Finding{Sign: RespiratoryRate, Count: &Count{12, 60, Anywhere}}, Measure{12, math.Sqrt(1.0/6 + 0.12), PerMinute}},
		// Told: 4·√(1/6) and 4/√12, the beat over 15 s, and the step of 1.
		{"40, as told", read(HeartRate, "40", PerMinute, Told), Measure{40, math.Sqrt(16.0/6 + 16.0/12 + 0.0009*160 + 1.0/12), PerMinute}},
		{"40, nothing said", read(HeartRate, "40", PerMinute, ""), Measure{40, math.Sqrt(16.0/6 + 16.0/12 + 0.0009*160 + 1.0/12), PerMinute}},
		// A thermometer: limits/√3 and step/√12.
		{"38.4 Cel digital", read(RectalTemperature, "38.4", Celsius, Digital), Measure{38.4, math.Sqrt(1.0/36/3 + 0.01/12), Celsius}},
		{"101.2 degF digital", read(RectalTemperature, "101.2", Fahrenheit, Digital), Measure{38.444444444, math.Sqrt(1.0/36/3 + 0.01/3.24/12), Celsius}},
		{"40.0 Cel digital", read(RectalTemperature, "40.0", Celsius, Digital), Measure{40, math.Sqrt(0.04/3 + 0.01/12), Celsius}},
		{"38 Cel predictive, whole degrees", read(RectalTemperature, "38", Celsius, Predictive), Measure{38, math.Sqrt(0.09/3 + 1.0/12), Celsius}},
		{"480 kg on a scale", read(Weight, "480", Kilogram, Scale), Measure{480, math.Sqrt(4.8*4.8/3 + 1.0/12), Kilogram}},
		{"condition 5.5", read(BodyCondition, "5.5", One, ""), Measure{5.5, math.Sqrt(0.25 + 0.01/12), One}},
		// Times.
		{"2.00 s once", Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{200}}}, Measure{2, 0.15, Second}},
		{"three tries", Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{190, 200, 210}}}, Measure{2, 0.15 / math.Sqrt(3), Second}},
		{"tries that scatter", Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{100, 200, 300}}}, Measure{2, 1 / math.Sqrt(3), Second}},
		{"aloud", Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{200}, Aloud: true}},
			Measure{2, math.Sqrt(0.15*0.15 + 1.0/12 + 0.09), Second}},
		// Girth and length: 180²·165/11880 = 450 kg; 70.9 in = 180.086 cm, 65 in = 165.1 cm.
		{"girth", Finding{Sign: Weight, Girth: &Girth{dec("180"), dec("165"), Centimetre}}, Measure{450, 27, Kilogram}},
		{"girth in inches", Finding{Sign: Weight, Girth: &Girth{dec("70.9"), dec("65"), Inch}},
			Measure{180.086 * 180.086 * 165.1 / 11880, 0.06 * 180.086 * 180.086 * 165.1 / 11880, Kilogram}},
	} {
		got, err := measureOf(t, x.f)
		td.CmpNoError(t, err, x.name)
		td.Cmp(t, got, td.Struct(Measure{Unit: x.want.Unit}, td.StructFields{
			"Value": td.N(x.want.Value, 1e-8), "SD": td.N(x.want.SD, 1e-8)}), x.name)
	}
}

func TestMeasureFaults(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		f    Finding
		want []string // "code path"
	}{
		{Finding{Sign: HeartRate, Absent: CouldNot}, []string{"no-value "}},
		{Finding{Sign: HeartRate}, []string{"no-value "}},
		{Finding{Sign: Attitude, Chosen: []GradeID{"dull"}}, []string{"wrong-kind "}},
		{Finding{Sign: HeartRate, Chosen: []GradeID{"dull"}}, []string{"wrong-kind "}},
		{Finding{Sign: HeartRate, Timed: &Timed{CentiSeconds: []int{100}}}, []string{"wrong-kind "}},
		{Finding{Sign: CapillaryRefill, Count: &Count{9, 15, OnBeat}}, []string{"wrong-kind "}},
		{Finding{Sign: HeartRate, Count: &Count{-1, 4, "later"}}, []string{"out-of-range /count/events", "out-of-range /count/seconds", "unknown-answer /count/start"}},
		{Finding{Sign: HeartRate, Count: &Count{math.MaxInt, math.MaxInt, OnBeat}}, []string{"out-of-range /count/events", "out-of-range /count/seconds"}},
		{Finding{Sign: HeartRate, Count: &Count{9, math.MinInt, OnBeat}}, []string{"out-of-range /count/seconds"}},
		{Finding{Sign: HeartRate, Taps: &Taps{[]int{0, 1600, 1500}}}, []string{"tap-order /taps/atMs/2"}},
		{Finding{Sign: HeartRate, Taps: &Taps{[]int{0, 1600}}}, []string{"taps-few /taps/atMs"}},
		{Finding{Sign: RectalTemperature, Reading: &Reading{Value: dec("38.1"), Unit: Celsius, Device: Infrared}}, []string{"wrong-device /reading/device"}},
		{Finding{Sign: RectalTemperature, Reading: &Reading{Value: dec("38.1"), Unit: Kilogram, Device: Digital}}, []string{"wrong-unit /reading/unit"}},
		{Finding{Sign: HeartRate, Reading: &Reading{Value: dec("36"), Unit: PerMinute, Device: Glass}}, []string{"wrong-device /reading/device"}},
		{Finding{Sign: Weight, Reading: &Reading{Value: dec("1e20"), Unit: "stone"}}, []string{"wrong-unit /reading/unit", "implausible-number /reading/value"}},
		{Finding{Sign: CapillaryRefill, Timed: &Timed{}}, []string{"no-try /timed/centiSeconds"}},
		{Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{0, 100, -5, 99999}}},
			[]string{"out-of-range /timed/centiSeconds/0", "out-of-range /timed/centiSeconds/2", "out-of-range /timed/centiSeconds/3"}},
		{Finding{Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: make([]int, 21)}}, []string{"many-tries /timed/centiSeconds"}},
		{Finding{Sign: Weight, Girth: &Girth{dec("18"), dec("1e9"), Centimetre}}, []string{"out-of-range /girth/girth", "implausible-number /girth/length"}},
		{Finding{Sign: Weight, Girth: &Girth{dec("180"), dec("165"), Second}}, []string{"wrong-unit /girth/unit"}},
	} {
		_, err := measureOf(t, x.f)
		faults, ok := errors.AsType[Faults](err)
		td.CmpTrue(t, ok, "%+v: %v", x.f, err)
		got := []string{}
		for _, f := range faults {
			got = append(got, string(f.Code)+" "+f.Path)
			td.CmpTrue(t, words.Has(words.English, "fault."+string(f.Code)), string(f.Code))
		}
		td.Cmp(t, got, x.want, "%+v", x.f)
	}
}

// The formula of girth and length is claimed for grown horses only.
func TestGirthFormulaIsForHorses(t *testing.T) {
	t.Parallel()
	f := Finding{Sign: Weight, Girth: &Girth{dec("110"), dec("95"), Centimetre}}
	for _, kind := range allTypes {
		for _, stage := range allStages {
			_, err := f.MeasureFor(mustSign(t, Weight), kind, stage)
			claimed := kind != TypeDonkey && kind != TypeMule && (stage == TwoYearOld || stage == Adult || stage == Senior)
			td.Cmp(t, err == nil, claimed, "%s %s: %v", kind, stage, err)
			td.Cmp(t, errors.Is(err, Fault{Code: FaultNoFormula, Path: "/girth"}), !claimed, "%s %s: %v", kind, stage, err)
		}
	}
}

// Every sentence that the instruments can ask for is there.
func TestMeasuringWords(t *testing.T) {
	t.Parallel()
	keys := []string{"how.rhythm.one-gap"}
	for _, r := range allRhythms {
		keys = append(keys, "how.rhythm."+string(r))
	}
	for _, a := range []string{AdviceCountEnough, AdviceCountLonger, AdviceCountFull, AdviceInversion,
		HeatEasy, HeatEasy + ".humid", HeatHelp, HeatWatch, HeatDangerous} {
		keys = append(keys, "advice."+a)
	}
	for _, c := range []FaultCode{FaultNotReading, FaultNoFormula, FaultTapsFew, FaultTapsUneven, FaultTapsGaps} {
		keys = append(keys, "fault."+string(c))
	}
	for _, l := range words.Langs() {
		for _, key := range keys {
			td.CmpTrue(t, words.Has(l, key), "%s: %s", l, key)
		}
	}
}

// Every figure of the instruments names its source, or says that it has none.
func TestInstrumentProvenance(t *testing.T) {
	t.Parallel()
	told, toldFrom := ToldRateSD()
	td.CmpGt(t, told, 1.633)
	_, score := ScoreSD()
	all := []Provenance{toldFrom, score, ReactionSD().Provenance, AloudSD().Provenance, Girths().From, Girths().SDFrom,
		Heart().Variations, Heart().Jitters, Breath().Variations, Breath().Jitters}
	for _, x := range Tolerances() {
		all = append(all, x.Provenance)
	}
	for _, p := range all {
		_, known := LookupSource(p.Source)
		td.CmpTrue(t, known || p.Source == "" && (p.Mark == Assumed || p.Mark == CommonPractice || p.Mark == Derived), "%+v", p)
		td.CmpTrue(t, p.Mark != "" && (p.Source != "" || p.Note != ""), "%+v", p)
	}
}
