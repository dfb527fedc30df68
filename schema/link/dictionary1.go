package link

const dictionary1 = ""
