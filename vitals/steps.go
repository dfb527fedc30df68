package vitals

import "slices"

// Step is one sign to take, at which sites.
type Step struct {
	Sign  SignID   `json:"sign"`
	Depth Depth    `json:"depth"`
	Sites []SiteID `json:"sites,omitempty"`
}

// Steps gives the steps of an exam in order, shallowest depth first. A sign that is asked
// again at each depth comes at each; any other comes once, at its deepest sites within the
// exam. Nobody holding the horse drops what needs a helper; a closed exam (see [Closed])
// keeps only what is seen from afar.
func Steps(depth Depth, holder Holder, closed bool) []Step {
	if closed {
		depth = WalkUp
	}
	var steps []Step
	for _, d := range allDepths {
		if !d.Within(depth) {
			break
		}
		for _, s := range catalogue {
			if step, ok := s.step(d, depth, holder); ok {
				steps = append(steps, step)
			}
		}
	}
	return steps
}

// StepsFor gives the steps of an exam of a horse: those of [Steps] for the exam's depth and
// holder whose sign is asked of such a horse in such a state, closed where an answer of the
// exam closes it.
func StepsFor(h Horse, e Exam) []Step {
	steps := Steps(e.Depth, e.Holder, Closed(e))
	return slices.DeleteFunc(steps, func(s Step) bool { return !catalogue[catalogueIndex[s.Sign]].For(h, e) })
}

// step gives the step of a sign at depth d of an exam of depth exam, if it has one.
func (s Sign) step(d, exam Depth, holder Holder) (Step, bool) {
	alone := holder == NotHeld
	if alone && slices.Contains(s.Needs, NeedHelper) {
		return Step{}, false
	}
	if len(s.Sites) == 0 {
		return Step{Sign: s.ID, Depth: d}, s.Depth == d
	}
	step := Step{Sign: s.ID, Depth: d}
	for _, site := range s.Sites {
		if !s.Again && site.Depth.Within(exam) && site.Depth.rank() > d.rank() {
			return Step{}, false // a deeper site comes later
		}
		if site.Depth == d && !(alone && slices.Contains(site.Needs, NeedHelper)) {
			step.Sites = append(step.Sites, site.ID)
		}
	}
	return step, len(step.Sites) > 0
}

// Closed reports whether an answer of the exam closes the hands-on steps: a horse that is
// down and will not rise, or thrashing, is left alone and the call comes first.
func Closed(e Exam) bool {
	for _, f := range e.Findings {
		i, known := catalogueIndex[f.Sign]
		if !known {
			continue
		}
		for _, id := range f.Chosen {
			if g, ok := catalogue[i].Grade(id); ok && g.Closes {
				return true
			}
		}
	}
	return false
}
