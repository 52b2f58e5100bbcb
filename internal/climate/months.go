package climate

// MonthNames are the months, January first.
var MonthNames = [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}
