package vitals

func respiratoryRateRanges() []Range { return nil }
func heartRateRanges() []Range       { return nil }
func temperatureRanges() []Range     { return nil }
func capillaryRefillRanges() []Range { return nil }
func skinTentRanges() []Range        { return nil }
