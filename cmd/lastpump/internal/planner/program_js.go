package planner

// Program gives what stands for the program in a page that the program in a page has written: it does
// not carry itself, and the page that it runs in puts it there.
func Program() string { return "@program@" }
