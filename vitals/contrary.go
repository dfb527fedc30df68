package vitals

// contrary are answers that hardly go together in one animal at one time; of a sign with both in hand, both are looked at again.
// Each pair is common practice.
var contrary = [][2]*Test{
	{testOf("gut-sounds none everywhere"), testOf("droppings usual")},
	{testOf("attitude down-not-rising"), testOf("gait free")},
	{testOf("attitude down-not-rising"), testOf("limb-load even")},
	{testOf("attitude down-not-rising"), testOf("doing standing moving")},
	{testOf("attitude down-thrashing"), testOf("doing standing moving eating")},
	{testOf("gum-colour pink"), testOf("capillary-refill > 3 s")},
	{testOf("limb-load no-weight"), testOf("gait free")},
	{testOf("limb-load no-weight"), testOf("turn easy")},
	{testOf("gait will-not-walk"), testOf("doing moving")},
	{testOf("feed none"), testOf("doing eating")},
	{testOf("swallowing cannot"), testOf("feed usual")},
	{testOf("respiratory-effort struggling"), testOf("respiratory-rate < 12 /min")},
}

// Contrary gives pairs of signs whose answers hardly go together: one of them was seen or entered wrong, or the animal is worse
// than the milder says. Nothing is lowered for it.
func Contrary(h Horse, e Exam) [][2]SignID {
	var room [64]int8
	var v view
	v.look(h, &e, room[:0])
	var out [][2]SignID
	for _, p := range contrary {
		if v.passes(p[0], "") && v.passes(p[1], "") {
			out = append(out, [2]SignID{p[0].Sign, p[1].Sign})
		}
	}
	return out
}
