package fasteners

// A pitchRow is what ISO 965-1 prints for one pitch, whatever the diameter, in micrometres:
// the fundamental deviation of g, taken as positive, and the tolerances of grade 6.
type pitchRow struct {
	pitch     int64
	deviation int64 // es of g
	major     int64 // Td
	minor     int64 // TD1; zero where the table has no grade 6
}

// pitchTable is ISO 965-1:2013, tables 1, 3 and 4. Read in reproductions: the whole of it as
// lists of numbers in one, single entries in the limits of size of ISO 965-2 and DIN 13.
var pitchTable = []pitchRow{
	{200, 17, 56, 0},
	{250, 18, 67, 0},
	{300, 18, 75, 85},
	{350, 19, 85, 100},
	{400, 19, 95, 112},
	{450, 20, 100, 125},
	{500, 20, 106, 140},
	{600, 21, 125, 160},
	{700, 22, 140, 180},
	{750, 22, 140, 190},
	{800, 24, 150, 200},
	{1000, 26, 180, 236},
	{1250, 28, 212, 265},
	{1500, 32, 236, 300},
	{1750, 34, 265, 335},
	{2000, 38, 280, 375},
	{2500, 42, 335, 450},
	{3000, 48, 375, 500},
	{3500, 53, 425, 560},
	{4000, 60, 475, 600},
	{4500, 63, 500, 670},
	{5000, 71, 530, 710},
	{5500, 75, 560, 750},
	{6000, 80, 600, 800},
	{8000, 100, 710, 1000},
}

// A pitchDiameterRow is what ISO 965-1 prints for one pitch in one range of diameters, in
// micrometres of grade 6. The range is given by its lower end in millimetres.
type pitchDiameterRow struct {
	above    string
	pitch    int64
	external int64 // Td2
	internal int64 // TD2; zero where the table has no grade 6
}

// pitchDiameterTable is ISO 965-1:2013, tables 5 and 6. Read in reproductions: the whole of
// it as lists of numbers in one; of Machinery's Handbook, 31st edition, page 2025, the
// internal threads above 90 mm and the external ones up to 22.4 mm.
var pitchDiameterTable = []pitchDiameterRow{
	{"0.99", 200, 48, 0},
	{"0.99", 250, 53, 0},
	{"0.99", 300, 56, 75},
	{"1.4", 200, 50, 0},
	{"1.4", 250, 56, 0},
	{"1.4", 350, 63, 85},
	{"1.4", 400, 67, 90},
	{"1.4", 450, 71, 95},
	{"2.8", 350, 67, 90},
	{"2.8", 500, 75, 100},
	{"2.8", 600, 85, 112},
	{"2.8", 700, 90, 118},
	{"2.8", 750, 90, 118},
	{"2.8", 800, 95, 125},
	{"5.6", 750, 100, 132},
	{"5.6", 1000, 112, 150},
	{"5.6", 1250, 118, 160},
	{"5.6", 1500, 132, 180},
	{"11.2", 1000, 118, 160},
	{"11.2", 1250, 132, 180},
	{"11.2", 1500, 140, 190},
	{"11.2", 1750, 150, 200},
	{"11.2", 2000, 160, 212},
	{"11.2", 2500, 170, 224},
	{"22.4", 1000, 125, 170},
	{"22.4", 1500, 150, 200},
	{"22.4", 2000, 170, 224},
	{"22.4", 3000, 200, 265},
	{"22.4", 3500, 212, 280},
	{"22.4", 4000, 224, 300},
	{"22.4", 4500, 236, 315},
	{"45", 1500, 160, 212},
	{"45", 2000, 180, 236},
	{"45", 3000, 212, 280},
	{"45", 4000, 236, 315},
	{"45", 5000, 250, 335},
	{"45", 5500, 265, 355},
	{"45", 6000, 280, 375},
	{"90", 2000, 190, 250},
	{"90", 3000, 224, 300},
	{"90", 4000, 250, 335},
	{"90", 6000, 300, 400},
	{"90", 8000, 335, 450},
	{"180", 3000, 250, 335},
	{"180", 4000, 280, 375},
	{"180", 6000, 315, 425},
	{"180", 8000, 355, 475},
}
