/** Every diagnostic of the model, in alphabetical order of their codes. */
import { activationNotDeclared } from './activation-not-declared';
import { activationRange } from './activation-range';
import { activationUsedUp } from './activation-used-up';
import { alloyPropertyMissing } from './alloy-property-missing';
import { archForm } from './arch-form';
import { argumentCount } from './argument-count';
import { armsInOneLine } from './arms-in-one-line';
import { attachmentWithoutSeat } from './attachment-without-seat';
import { auxiliaryMember } from './auxiliary-member';
import { auxiliaryPlace } from './auxiliary-place';
import { auxiliaryWithoutForces } from './auxiliary-without-forces';
import { bendAlongWire } from './bend-along-wire';
import { bendInSlot } from './bend-in-slot';
import { bendRadiusTooSmall } from './bend-radius-too-small';
import { bentBackTooLittle } from './bent-back-too-little';
import { cinchedInside } from './cinched-inside';
import { circularValue } from './circular-value';
import { conditionExpected } from './condition-expected';
import { contradictingClauses } from './contradicting-clauses';
import type { Diagnostic } from './diagnostic';
import { duplicateArgument } from './duplicate-argument';
import { duplicateMember } from './duplicate-member';
import { duplicateName } from './duplicate-name';
import { duplicateSeat } from './duplicate-seat';
import { emptyFile } from './empty-file';
import { emptyWire } from './empty-wire';
import { feetCount } from './feet-count';
import { footOutsidePart } from './foot-outside-part';
import { forceBeyondUsual } from './force-beyond-usual';
import { furtherSet } from './further-set';
import { gaugeImplausible } from './gauge-implausible';
import { groupMember } from './group-member';
import { heldLengthwise } from './held-lengthwise';
import { helixSize } from './helix-size';
import { ignoreWithoutReason } from './ignore-without-reason';
import { legsCross } from './legs-cross';
import { lengthNotPositive } from './length-not-positive';
import { limitExceeded } from './limit-exceeded';
import { loadEnds } from './load-ends';
import { loadSize } from './load-size';
import { loadedAgainstBend } from './loaded-against-bend';
import { missingPath } from './missing-path';
import { missingWire } from './missing-wire';
import { moduleCycle } from './module-cycle';
import { moduleNotFound } from './module-not-found';
import { momentBeyondUsual } from './moment-beyond-usual';
import { nameClash } from './name-clash';
import { noNeutral } from './no-neutral';
import { notComputable } from './not-computable';
import { notConverged } from './not-converged';
import { notHeld } from './not-held';
import { partRecursion } from './part-recursion';
import { pastParallelLegs } from './past-parallel-legs';
import { playWithoutSlot } from './play-without-slot';
import { preferenceMissed } from './preference-missed';
import { pullSide } from './pull-side';
import { quantityExpected } from './quantity-expected';
import { rangeReversed } from './range-reversed';
import { repeatCount } from './repeat-count';
import { requirementMissed } from './requirement-missed';
import { requirementNotEvaluable } from './requirement-not-evaluable';
import { resistanceUnknown } from './resistance-unknown';
import { resultInShape } from './result-in-shape';
import { seatOutOfLine } from './seat-out-of-line';
import { seatWithoutAttachment } from './seat-without-attachment';
import { sectionInPart } from './section-in-part';
import { slotDirectionUnknown } from './slot-direction-unknown';
import { sourceStateUnknown } from './source-state-unknown';
import { spaceNotClosed } from './space-not-closed';
import { spanExceedsWire } from './span-exceeds-wire';
import { stressPastYield } from './stress-past-yield';
import { toothNumber } from './tooth-number';
import { trialNotFollowed } from './trial-not-followed';
import { unitMismatch } from './unit-mismatch';
import { unitMissing } from './unit-missing';
import { unknownArgument } from './unknown-argument';
import { unknownDirection } from './unknown-direction';
import { unknownIgnore } from './unknown-ignore';
import { unknownName } from './unknown-name';
import { unknownUnit } from './unknown-unit';
import { unstableState } from './unstable-state';
import { unusableFriction } from './unusable-friction';
import { unusedIgnore } from './unused-ignore';
import { unusedParameter } from './unused-parameter';
import { unusedPart } from './unused-part';
import { valueOutOfRange } from './value-out-of-range';
import { visitsIncomplete } from './visits-incomplete';
import { visitsNotDeclared } from './visits-not-declared';
import { visitsNotFollowed } from './visits-not-followed';
import { wireDoesNotFitSlot } from './wire-does-not-fit-slot';
import { wireEnd } from './wire-end';
import { wireSnaps } from './wire-snaps';
import { wireTooLong } from './wire-too-long';
import { wireTouchesItself } from './wire-touches-itself';
import { wrongKindOfName } from './wrong-kind-of-name';

export const DIAGNOSTICS: ReadonlyMap<string, Omit<Diagnostic, 'at'>> = new Map(
  [
    activationNotDeclared,
    activationRange,
    activationUsedUp,
    alloyPropertyMissing,
    archForm,
    argumentCount,
    armsInOneLine,
    attachmentWithoutSeat,
    auxiliaryMember,
    auxiliaryPlace,
    auxiliaryWithoutForces,
    bendAlongWire,
    bendInSlot,
    bendRadiusTooSmall,
    bentBackTooLittle,
    cinchedInside,
    circularValue,
    conditionExpected,
    contradictingClauses,
    duplicateArgument,
    duplicateMember,
    duplicateName,
    duplicateSeat,
    emptyFile,
    emptyWire,
    feetCount,
    footOutsidePart,
    forceBeyondUsual,
    gaugeImplausible,
    groupMember,
    heldLengthwise,
    helixSize,
    ignoreWithoutReason,
    legsCross,
    lengthNotPositive,
    limitExceeded,
    loadEnds,
    loadSize,
    loadedAgainstBend,
    missingPath,
    missingWire,
    moduleCycle,
    moduleNotFound,
    momentBeyondUsual,
    nameClash,
    noNeutral,
    notComputable,
    notConverged,
    notHeld,
    partRecursion,
    pastParallelLegs,
    playWithoutSlot,
    preferenceMissed,
    pullSide,
    quantityExpected,
    rangeReversed,
    repeatCount,
    requirementMissed,
    requirementNotEvaluable,
    resistanceUnknown,
    resultInShape,
    seatOutOfLine,
    seatWithoutAttachment,
    sectionInPart,
    slotDirectionUnknown,
    sourceStateUnknown,
    spaceNotClosed,
    spanExceedsWire,
    stressPastYield,
    toothNumber,
    trialNotFollowed,
    furtherSet,
    unitMismatch,
    unitMissing,
    unknownArgument,
    unknownDirection,
    unknownIgnore,
    unknownName,
    unknownUnit,
    unstableState,
    unusableFriction,
    unusedIgnore,
    unusedParameter,
    unusedPart,
    valueOutOfRange,
    visitsIncomplete,
    visitsNotDeclared,
    visitsNotFollowed,
    wireDoesNotFitSlot,
    wireEnd,
    wireSnaps,
    wireTouchesItself,
    wireTooLong,
    wrongKindOfName,
  ].map((entry) => [entry.code, entry]),
);
