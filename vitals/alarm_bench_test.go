package vitals

import "testing"

// A quiet exam of every sign at its usual answer: what learning an exam costs the rules.
func BenchmarkFiredAlarms(b *testing.B) {
	h := animal(TypeHorse, Adult)
	e := examOf()
	for _, s := range catalogue {
		if !s.For(h, e) || s.Kind.Measured() {
			continue
		}
		f := Finding{Sign: s.ID, Chosen: []GradeID{s.Grades[0].ID}}
		if s.ID == GutSounds {
			f.Chosen[0] = "usual"
		}
		if s.PerSite {
			f.Site = s.Sites[0].ID
		}
		e.Findings = append(e.Findings, f)
	}
	e.Findings = append(e.Findings, read(HeartRate, "36", PerMinute), read(RespiratoryRate, "12", PerMinute), read(RectalTemperature, "37.8", Celsius))
	for b.Loop() {
		if len(FiredAlarms(h, e)) > 0 {
			b.Fatal("a rule fires on a well horse")
		}
	}
}
