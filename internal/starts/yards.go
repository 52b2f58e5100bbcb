package starts

import (
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

var yards = []Yard{
	{
		ID: "small-front", Name: "Small front lawn with a walk",
		About: "44 × 36 ft: a lawn of 30 × 15 ft laid out evenly with six sprays, a bed by the house, a walk to the door.",
		draw:  smallFront,
	},
	{
		ID: "courtyard", Name: "Courtyard",
		About: "32 × 32 ft within walls: a lawn of 20 × 20 ft laid out evenly with nine sprays, paving around it.",
		draw:  courtyard,
	},
	{
		ID: "narrow-side", Name: "Narrow side yard",
		About: "12 × 60 ft between the house and a fence: a strip of grass 5 ft wide, a bed, stepping stones. No heads yet.",
		draw:  narrowSide,
	},
	{
		ID: "back-patio", Name: "L-shaped back yard round a patio",
		About: "60 × 60 ft with the back of the house: lawn on two sides of a patio, a bed along the fence, a tree. No heads yet.",
		draw:  backPatio,
	},
	{
		ID: "long-drive", Name: "Long lot with a drive",
		About: "36 × 120 ft: a drive down one side, a front and a back lawn, a strip beside the house. No heads yet.",
		draw:  longDrive,
	},
	{
		ID: "corner", Name: "Corner lot",
		About: "90 × 100 ft with a street on two sides: lawn round the corner, a drive, a fenced back yard. No heads yet.",
		draw:  corner,
	},
}

func smallFront(p *plan.Plan) {
	p.Site.Lot = box(0, 0, 44, 36)
	stands(p, "street", "Street", plan.RightOfWay, box(0, -8, 44, 0))
	stands(p, "house", "House", plan.Building, box(0, 19, 44, 36))
	stands(p, "walk", "Walk", plan.Paving, box(30, 0, 34, 19))
	lawn(p, "lawn", "Front lawn", box(0, 0, 30, 15))
	bed(p, "bed-house", "Bed by the house", box(0, 15, 30, 19))
	bed(p, "bed-side", "Bed beside the walk", box(34, 0, 44, 19))
	even(p, "z1", 1, "Front lawn", 0, 0, 30, 15, 15)
}

func courtyard(p *plan.Plan) {
	p.Site.Lot = box(0, 0, 32, 32)
	stands(p, "paving", "Paving", plan.Paving, box(0, 0, 32, 32), box(6, 6, 26, 26))
	lawn(p, "lawn", "Courtyard lawn", box(6, 6, 26, 26))
	p.Barriers["wall"] = plan.Barrier{Name: "Courtyard wall", Kind: plan.Wall, Line: line(32, 32, 32, 0, 0, 0, 0, 32), HeightFt: 7, Status: plan.Existing}
	stands(p, "house", "House", plan.Building, box(0, 32, 32, 40))
	even(p, "z1", 1, "Courtyard", 6, 6, 26, 26, 10)
}

func narrowSide(p *plan.Plan) {
	p.Site.Lot = box(0, 0, 12, 60)
	stands(p, "house", "House", plan.Building, box(-16, 6, 0, 54))
	stands(p, "path", "Stepping stones in gravel", plan.Ground, box(0, 0, 3.5, 60))
	lawn(p, "strip", "Side strip", box(3.5, 0, 8.5, 60))
	bed(p, "bed", "Bed along the fence", box(8.5, 0, 12, 60))
	fence(p, "fence", "Side fence", line(12, 0, 12, 60))
	p.KeepDry["air"] = plan.KeepDry{Name: "Air-conditioner", X: 1.5, Y: 40, RadiusFt: 1.5, Status: plan.Existing}
}

func backPatio(p *plan.Plan) {
	p.Site.Lot = box(0, 0, 60, 60)
	stands(p, "house", "House", plan.Building, box(0, 0, 60, 14))
	stands(p, "patio", "Patio", plan.Paving, box(32, 14, 60, 32))
	lawn(p, "lawn", "Back lawn", shape(0, 14, 32, 14, 32, 32, 60, 32, 60, 54, 0, 54))
	bed(p, "bed", "Bed along the back fence", box(0, 54, 60, 60))
	fence(p, "fence", "Fence", line(0, 14, 0, 60, 60, 60, 60, 14))
	p.Trees["tree"] = plan.Tree{Name: "Shade tree", X: 14, Y: 42, TrunkIn: 10, RootZoneFt: 9, Status: plan.Existing}
}

func longDrive(p *plan.Plan) {
	p.Site.Lot = box(0, 0, 36, 120)
	stands(p, "street", "Street", plan.RightOfWay, box(0, -10, 36, 0))
	stands(p, "drive", "Drive", plan.Paving, box(26, 0, 36, 84))
	stands(p, "garage", "Garage", plan.Building, box(20, 84, 36, 104))
	stands(p, "house", "House", plan.Building, box(6, 28, 26, 74))
	lawn(p, "front", "Front lawn", box(0, 0, 26, 28))
	lawn(p, "side", "Strip beside the house", box(0, 28, 6, 74))
	lawn(p, "back", "Back lawn", shape(0, 74, 26, 74, 26, 84, 20, 84, 20, 120, 0, 120))
	bed(p, "bed", "Bed behind the garage", box(20, 104, 36, 120))
}

func corner(p *plan.Plan) {
	p.Site.Lot = geom.Outline{{X: 16}, {X: 90}, {X: 90, Y: 100}, {Y: 100}, {Y: 16, Bulge: quarterLeft}}
	stands(p, "street-south", "South street", plan.RightOfWay, box(-12, -12, 90, -2))
	stands(p, "street-west", "West street", plan.RightOfWay, box(-12, -2, -2, 100))
	stands(p, "house", "House", plan.Building, box(26, 34, 74, 66))
	stands(p, "drive", "Drive", plan.Paving, box(74, 0, 90, 40))
	stands(p, "walk", "Walk", plan.Paving, box(46, 0, 50, 34))
	p.Areas["front"] = plan.Area{
		Name: "Corner lawn", Kind: plan.Planting, Planting: plan.Turf, Status: plan.Existing,
		Outline: geom.Outline{{X: 16}, {X: 46}, {X: 46, Y: 34}, {X: 26, Y: 34}, {X: 26, Y: 66}, {Y: 66}, {Y: 16, Bulge: quarterLeft}},
	}
	lawn(p, "front-east", "Lawn by the drive", box(50, 0, 74, 34))
	lawn(p, "back", "Back lawn", box(0, 66, 90, 94))
	bed(p, "bed", "Bed along the back fence", box(0, 94, 90, 100))
	stands(p, "side", "Gravel beside the house", plan.Ground, box(74, 40, 90, 66))
	fence(p, "fence", "Back fence", line(0, 66, 0, 100, 90, 100, 90, 40))
	p.Trees["tree"] = plan.Tree{Name: "Corner tree", X: 14, Y: 44, TrunkIn: 12, RootZoneFt: 10, Status: plan.Existing}
}

// quarterLeft is the bulge of a quarter circle turning left: the tangent of a
// quarter of 90°.
const quarterLeft = 0.41421356
