package vitals

// Unit is a UCUM code (The Unified Code for Units of Measure).
type Unit string

const (
	PerMinute  Unit = "/min"
	Celsius    Unit = "Cel"
	Fahrenheit Unit = "[degF]"
	Second     Unit = "s"
	Kilogram   Unit = "kg"
	Pound      Unit = "[lb_av]"
	Centimetre Unit = "cm"
	Inch       Unit = "[in_i]"
	Percent    Unit = "%"
	One        Unit = "1"
)

// Units lists every unit.
var Units = []Unit{PerMinute, Celsius, Fahrenheit, Second, Kilogram, Pound, Centimetre, Inch, Percent, One}
