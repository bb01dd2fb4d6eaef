package power

import "drivewright/internal/base/explain"

var supplyRules = []explain.Rule[Result]{}

// supplyFormulas are the relations of the supply side, in the order of the sheet.
var supplyFormulas = []*explain.Formula{
	loadCurrent, loadMotorCurrent, circuitCurrent, driveConductorAmpacity, markedTerminal, unmarkedTerminal, insulationColumn, finalColumn, conductorAmpacity, ampacityCorrection, ampacityAdjustment, correctedAmpacity, installedAmpacity, smallestBranchConductor,
	deviceCurrent, standardDeviceRating, preferredDeviceRating, currentAtSupply, motorDeviceLimit, motorDeviceException, conductorDeviceLimit, smallConductorDevice,
	disconnectAmpacity, disconnectBreak, switchBreaking,
	groundingConductor, proportionalGrounding, protectiveConductor, groundPathResistance,
	conductorResistance, conductorReactance, conductorImpedance, resistanceAtTemperature, loopResistance, resistanceSum, voltageDropFormula, dropSum, dropShare, dropByMils, conductorForDrop, longestRun, startDrop, voltageLeft, converterStart,
	coldResistance, transformerCurrent, transformerFault, pointToPoint,
	cableLeakage, leakageSum, groundFaultRating, leakageShare, groundFaultType,
	carryingInCord, cordAmpacity, smallestCord, smallestReceptacle, receptacleRating,
	insulatedArea, racewayConductors, conductorsArea, racewayLimit, racewayArea, racewayShare, smallestRaceway, mostConductors,
}
