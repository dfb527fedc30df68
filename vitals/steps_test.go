package vitals

import (
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

func TestSteps(t *testing.T) {
	list := func(steps []Step) []SignID {
		var ids []SignID
		for _, s := range steps {
			ids = append(ids, s.Sign)
		}
		return ids
	}
	at := func(steps []Step, id SignID) (out []Step) {
		for _, s := range steps {
			if s.Sign == id {
				out = append(out, s)
			}
		}
		return out
	}
	walk := Steps(WalkUp, "", false)
	td.Cmp(t, list(walk), []SignID{Attitude, HeadCarriage, Coat, Wounds, LimbLoad, Stance, Doing, DoingUsual, Droppings, Water, Feed, RespiratoryRate})
	td.Cmp(t, Steps(Full, Held, true), walk, "a closed exam keeps what is seen from afar")

	// Breathing is counted from afar and again at the flank; the heart once, where the exam's depth allows best.
	full := Steps(Full, Held, false)
	td.Cmp(t, at(full, RespiratoryRate), []Step{
		{RespiratoryRate, WalkUp, []SiteID{"afar"}}, {RespiratoryRate, HandsOn, []SiteID{"flank", "nostril"}}})
	td.Cmp(t, at(full, HeartRate), []Step{{HeartRate, Full, []SiteID{"chest-left"}}})
	td.Cmp(t, at(full, GutSounds), []Step{{GutSounds, Full, []SiteID{"gut-upper-left", "gut-lower-left", "gut-upper-right", "gut-lower-right"}}})
	hands := Steps(HandsOn, Held, false)
	td.Cmp(t, at(hands, HeartRate), []Step{{HeartRate, HandsOn, []SiteID{"jaw", "digital-artery"}}})
	td.Cmp(t, at(hands, GutSounds), []Step{{GutSounds, HandsOn, []SiteID{"flank-left", "flank-right"}}})
	td.Cmp(t, at(hands, RectalTemperature), td.Empty())
	td.Cmp(t, len(full), len(Catalogue())+1, "every sign once, breathing twice")
	td.CmpTrue(t, slices.IsSortedFunc(full, func(a, b Step) int { return a.Depth.rank() - b.Depth.rank() }))

	// Alone: no thermometer, no hind feet, no hands on the hindquarters.
	alone := Steps(Full, NotHeld, false)
	td.Cmp(t, at(alone, RectalTemperature), td.Empty())
	td.Cmp(t, at(alone, Muscle), td.Empty())
	td.Cmp(t, at(alone, DigitalPulse), []Step{{DigitalPulse, HandsOn, []SiteID{"fore-left", "fore-right"}}})
	td.Cmp(t, at(alone, HoofWarmth), []Step{{HoofWarmth, HandsOn, []SiteID{"fore-left", "fore-right"}}})
}

func TestClosed(t *testing.T) {
	td.CmpFalse(t, Closed(examOf(choose(Attitude, "", "dull"))))
	td.CmpTrue(t, Closed(examOf(choose(Attitude, "", "down-not-rising"))))
	td.CmpTrue(t, Closed(examOf(choose(Attitude, "", "down-thrashing"))))
	td.CmpFalse(t, Closed(examOf(Finding{Sign: Attitude, Absent: NotTried}, Finding{Sign: "?", Chosen: []GradeID{"x"}})))
}
