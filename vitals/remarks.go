package vitals

func remarks(ids ...RemarkID) []Remark { return nil }
