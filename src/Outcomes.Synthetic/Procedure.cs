using System.Collections.Immutable;

namespace Outcomes.Synthetic;

/// <summary>
/// One invented procedure as it truly was: complete and consistent, in the dictionary's own values; <c>Planted</c> says what was put
/// wrong on purpose.
/// </summary>
public sealed record Procedure(
    string RecordId, DateOnly Date, Plant? Planted, Patient Patient, Preparation Preparation, Course Course,
    Observations Observations, Entry Entry)
{
    public required Foresight Foresight { get; init; }

    public required Timing Timing { get; init; }

    public required Precautions Precautions { get; init; }

    public required Sequel Sequel { get; init; }
}

/// <summary>Who was intubated, where and why. Age in whole years, weight in kg.</summary>
public sealed record Patient(
    int AgeYears, string Sex, int WeightKg, string Location, string Urgency, string HourBand, string Indication,
    bool ArrestBefore, string Infection, string? Precaution, string Ppe);

/// <summary>What was done before the first blade. Times in s, angles in degrees, oxygen in %.</summary>
public sealed record Preparation(
    string Checklist, bool TeamBrief, bool RolesAllocated, ImmutableArray<string> PlansSpoken, string Membrane,
    bool FonaKitReady, string Position, int HeadUpDeg, ImmutableArray<string> PreoxMethod, int PreoxSeconds, int EtO2,
    bool ApnoeicOxygen, string InductionAgent, string Relaxant, string Sequence);

/// <summary>What foretold trouble, and what was ready for it besides the front-of-neck set.</summary>
public sealed record Foresight(
    string Mallampati, bool SleepApnoea, bool NeckLimited, bool SmallMouth, bool Coma, bool SevereHypoxaemia, bool NonAnaesthetist,
    bool SeniorPresent, ImmutableArray<string> DrugsReady)
{
    /// <summary>The score of De Jong 2013 from its seven items; a class that could not be assessed counts nothing.</summary>
    public int KnownMacocha =>
        (Mallampati is "3" or "4" ? 5 : 0) + (SleepApnoea ? 2 : 0) + (NeckLimited ? 1 : 0) + (SmallMouth ? 1 : 0) + (Coma ? 1 : 0)
            + (SevereHypoxaemia ? 1 : 0) + (NonAnaesthetist ? 1 : 0);
}

/// <summary>
/// Doses in mg (null where no drug was given), mean pressures in mmHg, minutes with a systolic pressure below 90, and what came after.
/// </summary>
public sealed record Sequel(
    bool WeightEstimated, int? AgentMg, int? RelaxantMg, int MapPre, int MapMin, int MinutesBelow90, bool DifficultyAsked,
    bool DifficultyPredicted, bool DiedWithin24Hours, bool Debriefed);

/// <summary>Seconds from induction; null where the question does not arise. The decision comes before, so it is negative.</summary>
public sealed record Timing(int Decision, int? FirstBlade, int? CicoDeclared, int? FrontOfNeck, int? Confirmed);

/// <summary>
/// People in the room, and what was done against airborne spread; null where it does not arise, or was not on the form yet.
/// </summary>
public sealed record Precautions(int StaffInRoom, bool? BuddyCheck, bool? Breach, string? BreachStage)
{
    public AirborneSequence? Sequence { get; init; }
}

/// <summary>The airborne-precaution sequence, item by item. A reason is null where the mask was not used, or none was given.</summary>
public sealed record AirborneSequence(
    string CheckOutside, string CheckInside, bool CircuitInOrder, bool FilterFirst, bool GasOff, bool CuffFirst, string Clamped,
    bool MaskAfterRelaxant, string? MaskReason, bool DoffingObserved);

/// <summary>The attempts and where they led. Null where the question does not arise.</summary>
public sealed record Course(
    ImmutableArray<Attempt> Attempts, string PlanA, string PlanB, string PlanC, string PlanD, string FinalPlan,
    string FinalAirway, string Oesophageal, int? RecognitionSeconds, string HelpCalled, string? Co2Confirmation,
    bool? SustainedCo2)
{
    /// <summary>Techniques that are intubation attempts; the others are rescues.</summary>
    private static readonly ImmutableArray<string> Intubating = ["direct", "video", "flexible_scope", "via_sga"];

    public static bool IsIntubation(Attempt attempt) => Intubating.Contains(attempt.Technique);

    public int AttemptsTotal => Attempts.Count(IsIntubation);

    public bool FrontOfNeck => PlanD != "not_used";

    /// <summary>Intubation attempts that did not succeed.</summary>
    public int Failed => Attempts.Count(a => IsIntubation(a) && a.Outcome != "success");
}

/// <summary>Saturations in %, pressures in mmHg; the lowest values include the moment of induction.</summary>
public sealed record Observations(
    int SpO2Pre, int SpO2Min, int SpO2At2Min, int SbpPre, int SbpMin, string VasopressorPre, bool VasopressorNew,
    int FluidMl, bool ArrestPeri, ImmutableArray<string> Complications);

/// <summary>How the record was made. Delay in hours.</summary>
public sealed record Entry(string RecorderRole, int DelayHours);

/// <summary>One attempt at the airway. Blade insertions, tube passes and view are null where there is no laryngoscopy.</summary>
public sealed record Attempt(string Plan, string Technique, string Device, string Outcome)
{
    public string? BladeShape { get; init; }

    public string? Introducer { get; init; }

    public string Grade { get; init; } = "";

    public string Specialty { get; init; } = "";

    public int? BladeInsertions { get; init; }

    public int? TubePasses { get; init; }

    public string? View { get; init; }

    /// <summary>What was changed after the attempt before; empty for the first.</summary>
    public ImmutableArray<string> Changes { get; init; } = [];

    public int SpO2Start { get; init; }

    public int SpO2Min { get; init; }

    public int DurationSeconds { get; init; }

    /// <summary>When it began, in seconds from induction.</summary>
    public int StartSeconds { get; init; }

    public string? Co2After { get; init; }
}
