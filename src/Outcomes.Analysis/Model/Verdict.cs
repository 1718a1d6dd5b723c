using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>The one label that a measure gets in a month.</summary>
public enum VerdictLabel
{
    /// <summary>Nothing is asked of it: no headline measure, and no declared change that is current.</summary>
    NotTested,

    TooFewToJudge,

    /// <summary>Events too rare for a monthly test; compared once a year.</summary>
    TooRare,

    Worse,

    WorseAfterChange,

    /// <summary>It looks better, but recording changed.</summary>
    CheckRecording,

    BetterAfterChange,

    Better,

    /// <summary>It moved after a declared change, and has no better side.</summary>
    DifferentAfterChange,

    /// <summary>A declared change was evaluated, and neither help nor harm is shown.</summary>
    NotShown,

    NoSignOfChange,
}

/// <summary>Which row of the decision table gave the label: it rules the sentence.</summary>
public enum VerdictReason
{
    NotAsked,

    /// <summary>Less than 12 months or 40 cases of history.</summary>
    ShortHistory,

    /// <summary>Too rare for a monthly test, and the yearly comparison shows nothing or has not come.</summary>
    RareEvents,

    /// <summary>The yearly comparison of rare events.</summary>
    YearlyComparison,

    /// <summary>The monthly test.</summary>
    MonthlyTest,

    /// <summary>The monthly test, after a signal the other way.</summary>
    Relapse,

    /// <summary>The monthly test says worse although a current evaluation said better.</summary>
    WorseDespiteEvaluation,

    /// <summary>The monthly test says better, and a current evaluation left it open.</summary>
    BetterEvaluationOpen,

    /// <summary>The planned evaluation of a declared change.</summary>
    Evaluation,

    /// <summary>The planned evaluation and the monthly test say better.</summary>
    EvaluationAndTest,

    /// <summary>A declared change waits for its evaluation.</summary>
    WaitingEvaluation,

    NoSignal,
}

/// <summary>The one caution that a verdict carries.</summary>
public enum VerdictCaution
{
    None,

    /// <summary>The unadjusted counts would say otherwise.</summary>
    CountsDiffer,

    /// <summary>A field of the case mix moved: the counts decide.</summary>
    FieldMoved,

    /// <summary>The share of procedures that were recorded fell.</summary>
    CaptureFell,

    /// <summary>The case-mix model discriminates poorly.</summary>
    ModelPartial,

    /// <summary>The signal chose these months, so the rate exaggerates.</summary>
    Exaggerates,
}

/// <summary>A signal of the monthly test as the verdict tells it; rates are of the measure met.</summary>
/// <param name="ForTheWorse">Its way.</param>
/// <param name="Likeliest">The likeliest first month of the change.</param>
/// <param name="From">First month of the range that holds it with 80 %.</param>
/// <param name="To">Last month of the range.</param>
/// <param name="Reported">The month whose report gave the signal.</param>
/// <param name="Before">The level in the month before that range.</param>
public sealed record VerdictChange(bool ForTheWorse, Month Likeliest, Month From, Month To, Month Reported, double Before);

/// <summary>
/// What a report says of one measure in one month: one label and one sentence, made once from the monthly test, planned evaluations, case
/// mix and recording by a fixed decision table. Pages, charts and tables quote it.
/// </summary>
public sealed record Verdict
{
    public required Measure Measure { get; init; }

    public required VerdictLabel Label { get; init; }

    public required VerdictReason Reason { get; init; }

    public VerdictCaution Caution { get; init; }

    /// <summary>Count of the last 12 months.</summary>
    public Count Year { get; init; }

    /// <summary>The level now with its 95 % range, of the measure met, by the monthly test; null where it is not tested.</summary>
    public Spread? Now { get; init; }

    /// <summary>Whether <see cref="Now"/> is adjusted for case mix.</summary>
    public bool IsAdjusted { get; init; }

    /// <summary>The signal behind the label; null without one.</summary>
    public VerdictChange? Change { get; init; }

    /// <summary>The evaluation that the sentence tells of; null without one.</summary>
    public ChangeEvaluation? Evaluation { get; init; }

    /// <summary>How surely a change for the worse would be noticed; null where that was not worked out.</summary>
    public Sight? Noticed { get; init; }

    /// <summary>Months and count of a history that is too short; null elsewhere.</summary>
    public (int Months, Count Count)? ShortHistory { get; init; }

    /// <summary>The start of the phase that is read; null for the first.</summary>
    public Month? PhaseFrom { get; init; }

    /// <summary>Events too rare for a monthly test; null elsewhere.</summary>
    public RareYear? Rare { get; init; }

    /// <summary>Behind <see cref="VerdictCaution.CaptureFell"/>; null elsewhere.</summary>
    public CaptureFall? Capture { get; init; }

    /// <summary>Behind <see cref="VerdictCaution.FieldMoved"/>; null elsewhere.</summary>
    public MovedField? Moved { get; init; }

    /// <summary>Behind <see cref="VerdictCaution.CountsDiffer"/>; null elsewhere.</summary>
    public MixShift? Mix { get; init; }

    /// <summary>Cross-validated area under the ROC curve of the case-mix model; null where none is followed.</summary>
    public double? Auc { get; init; }

    /// <summary>How many unrecorded cases would turn the conclusion; null where there is no conclusion or no number would.</summary>
    public TippingPoint? Tipping { get; init; }

    /// <summary>Whether the label says that something changed.</summary>
    public bool SaysChange => Label is VerdictLabel.Worse or VerdictLabel.WorseAfterChange or VerdictLabel.Better
        or VerdictLabel.BetterAfterChange or VerdictLabel.DifferentAfterChange or VerdictLabel.CheckRecording;
}
