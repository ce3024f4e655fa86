package date_test

import (
	"fmt"

	"musterstone/model/date"
)

func Example() {
	for _, s := range []string{"Aug. 9, 1864", "abt. 1841", "1862 or 63", "186-", "before 1870"} {
		d, err := date.Parse(s)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(s, "is", d)
	}
	// Output:
	// Aug. 9, 1864 is 1864-08-09
	// abt. 1841 is 1841~
	// 1862 or 63 is 1862/1863
	// 186- is 186X
	// before 1870 is ../1869
}

func ExampleParse_impossible() {
	_, err := date.Parse("Feb. 29, 1863")
	fmt.Println(err)
	_, err = date.Parse("23456")
	fmt.Println(err)
	// Output:
	// read date "Feb. 29, 1863": there is no 29 February 1863: it was no leap year
	// read date "23456": it looks like a spreadsheet's day number (23456 would be 1964-03-20): write the date out
}

func ExampleParseNear() {
	d, _ := date.ParseNear("Sept. 1, '62", 1863)
	fmt.Println(d)
	// Output: 1862-09-01
}

func ExampleBirthFrom() {
	age, _ := date.ParseAge("AE. 67 Yrs.")
	fmt.Println(date.BirthFrom(date.On(1864, 8, 9), age))
	// Output: 1796-08-10/1797-08-09
}
