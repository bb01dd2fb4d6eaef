package power

import "drivewright/internal/base/explain"

// motorRules are the rules of the motor side, in the order of the sheet.
var motorRules = []explain.Rule[Result]{}

// motorFormulas are the relations of the motor side, in the order of the sheet.
var motorFormulas = []*explain.Formula{
	voltageRatio, voltageMeaning, driveOutputVoltage, baseFrequency, powerLeft,
	leadGroups, windingFromGroups, leadConnection,
	motorFullLoadCurrent, singlePhaseMotorCurrent, typicalMotorCurrent, serviceFactorCurrent,
	motorPoles, synchronousSpeed, slip, impliedEfficiencyFactor, shaftPower, lockedRotorCurrent, lockedRotorLeast, lockedRotorLimit,
	temperatureDerating, altitudeDerating, carrierDerating, driveOutput,
	inputEstimate, deratedInput, inputLeast, inputAtLoad,
	overloadMost, overloadIfStart, overloadAtPlate,
	selfCooledTorque, dutyTorque, torqueNeeded, slowestCool, topSpeed,
	motorLeadAmpacity, motorLeadConductor, motorLeadDrop, criticalLength, reflectedPeak, windingWithstand,
	stepUpTransformer, converterAmpacity, converterFixedAmpacity, staticConverterCurrent, motorConductorAmpacity,
	linkVoltage, capacitorEnergy, dischargeTime,
}
