package parts

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Cents is a sum of money in hundredths of the user's currency. Sums are whole
// numbers of them, so that they add up on paper.
type Cents int64

// String is the sum as it is written: "1234.50".
func (c Cents) String() string {
	sign, n := "", uint64(c)
	if c < 0 {
		sign, n = "-", -n
	}
	cents := strconv.FormatUint(n%100, 10)
	return sign + strconv.FormatUint(n/100, 10) + "." + strings.Repeat("0", 2-len(cents)) + cents
}

// In is the sum with the currency before it, as a plan's quote has it: a sign close
// to the figures, a code apart. A sum below nothing has its sign before all.
func (c Cents) In(currency string) string { return inCurrency(c.String(), currency) }

// PriceIn is a price with the currency before it: with two decimals, or more where it
// has more.
func PriceIn(each float64, currency string) string {
	text := strconv.FormatFloat(each, 'f', -1, 64)
	_, behind, _ := strings.Cut(text, ".")
	return inCurrency(strconv.FormatFloat(each, 'f', max(len(behind), 2), 64), currency)
}

func inCurrency(sum, currency string) string {
	if currency == "" {
		return sum
	}
	sign := ""
	if strings.HasPrefix(sum, "-") {
		sign, sum = "-", sum[1:]
	}
	last, _ := utf8.DecodeLastRuneInString(currency)
	if unicode.IsLetter(last) || last == '.' {
		currency += " "
	}
	return sign + currency + sum
}

// exact is a figure of the plan as the decimal fraction that was typed, which a
// float64 only comes near.
func exact(v float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(v, 'f', -1, 64))
	if !ok {
		panic("parts: a figure that is not finite") // reading the plan has seen to it
	}
	return r
}

// times is so many of a price, rounded to the nearest cent, halves up.
func times(count *big.Rat, each float64) Cents {
	return rounded(new(big.Rat).Mul(count, exact(each)))
}

// share is a part of a sum, rounded likewise.
func share(of Cents, part float64) Cents {
	sum := big.NewRat(int64(of), 100)
	return rounded(sum.Mul(sum, exact(part)))
}

// rounded is an amount of money to the nearest cent, halves up.
func rounded(money *big.Rat) Cents {
	cents := new(big.Rat).Mul(money, big.NewRat(100, 1))
	cents.Add(cents, big.NewRat(1, 2))
	whole := new(big.Int).Div(cents.Num(), cents.Denom()) // rounds down, as the denominator is positive
	if !whole.IsInt64() {
		return math.MaxInt64
	}
	return Cents(whole.Int64())
}
