package watch

import (
	"time"

	"whorl.example/vitals"
)

// WatchFigures lists the figures that decide what is said of a series.
func AssumedFigures() []vitals.Figure {
	return []vitals.Figure{
		{ID: "watch-gap", Figure: float64(gap) / float64(time.Hour), Provenance: vitals.Provenance{Mark: vitals.Assumed, Note: "a sick horse that is watched is looked at more often than twice a day"}},
		{ID: "watch-least", Figure: leastMoments, Provenance: vitals.Provenance{Mark: vitals.Assumed, Note: "two readings always have a direction"}},
		{ID: "watch-in", Figure: falseRate, Provenance: vitals.Provenance{Mark: vitals.Assumed, Note: "one false direction in twenty series of rechecks"}},
		{ID: "watch-uneven", Figure: unevenLevel, Provenance: vitals.Provenance{Mark: vitals.Assumed, Note: "a series that goes no one way, yet is no chance, is told rarely"}},
		{ID: "watch-power", Figure: power, Provenance: vitals.Provenance{Mark: vitals.CommonPractice, Note: "the usual power of a planned study"}},
		{ID: "robust-from", Figure: robustLeast, Provenance: vitals.Provenance{Mark: vitals.Derived, Note: "with five readings no order of them is rarer than one in sixty"}},
	}
}
