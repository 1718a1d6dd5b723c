using System.Collections.Immutable;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A history and the reports read against it: one budget.</summary>
/// <param name="HistoryFrom">First month of the history.</param>
/// <param name="ReportsFrom">First month after it.</param>
/// <param name="Reading">What the months say.</param>
public sealed record SignalWindow(Month HistoryFrom, Month ReportsFrom, ChangeReading Reading)
{
    public Month HistoryTo => ReportsFrom.AddMonths(-1);

    /// <summary>The monthly test behind the reading; null where there is too little history.</summary>
    public MonthlyTestResult? Test { get; init; }

    public Month Of(int report) => ReportsFrom.AddMonths(report);
}

/// <summary>Whether a measure is read for change against the case mix of its records.</summary>
public enum MixUse
{
    /// <summary>The pipeline does not ask for its case mix: its counts decide.</summary>
    NotAsked,

    /// <summary>It is, and that decides.</summary>
    Followed,

    /// <summary>There is no model, for lack of events or of fields that vary: its counts decide.</summary>
    NoModel,

    /// <summary>
    /// The model was fitted to months that are themselves tested, and would have learnt the change that is looked for: its counts decide.
    /// </summary>
    BaselineWatched,

    /// <summary>A field of the model is missing more or less often than in the history: from then on its counts decide.</summary>
    FieldMoved,
}

/// <summary>A field of a case-mix model whose missing share has moved since the history.</summary>
/// <param name="Field">The field's name.</param>
/// <param name="Since">The report month with which it was found.</param>
/// <param name="Missing">Judged records without it in the six months that end then.</param>
/// <param name="Of">Judged records of those months.</param>
/// <param name="MissingBefore">Judged records of the history without it.</param>
/// <param name="OfBefore">Judged records of the history.</param>
public sealed record MovedField(string Field, Month Since, long Missing, long Of, long MissingBefore, long OfBefore);

/// <summary>Whether a measure has changed, as far as its false-alarm budget lets one say.</summary>
/// <param name="Windows">The history and its reports; empty where no month has a history behind it.</param>
/// <param name="FalseAlarm">The chance of a false signal that this measure may spend in each window.</param>
/// <param name="PhaseFrom">The start of the phase that is read; null for the first.</param>
public sealed record MeasureSignal(ImmutableArray<SignalWindow> Windows, double FalseAlarm, Month? PhaseFrom)
{
    /// <summary>The history and its reports.</summary>
    public SignalWindow? Window => Windows.LastOrDefault();

    public ChangeState State => Window?.Reading.State ?? ChangeState.TooFewToJudge;

    /// <summary>The signal that is current; null without one.</summary>
    public Change? Change => Window?.Reading.Change;

    /// <summary>Whether its events are too rare for the monthly test, so that there are no windows.</summary>
    public bool IsTooRare { get; init; }

    /// <summary>Whether the case mix is followed.</summary>
    public MixUse Mix { get; init; }

    /// <summary>
    /// What the counts alone would say where the case mix is followed; null elsewhere. It stands beside and decides nothing.
    /// </summary>
    public MeasureSignal? CountsAlone { get; init; }

    /// <summary>The field that moved; null unless <see cref="Mix"/> is <see cref="MixUse.FieldMoved"/>.</summary>
    public MovedField? Moved { get; init; }

    /// <summary>Cross-validated area under the ROC curve of the model that is followed; null where none is.</summary>
    public double? Auc { get; init; }

    /// <summary>What this department could see of a change, at its own volume; empty where that was not worked out.</summary>
    public ImmutableArray<Sight> Sights { get; init; } = [];
}

/// <summary>How surely and how soon a change would be noticed.</summary>
/// <param name="From">Proportion met before it.</param>
/// <param name="To">Proportion met after it.</param>
/// <param name="WithinMonths">Months after it.</param>
/// <param name="Noticed">Chance that a signal is given within them.</param>
public sealed record Sight(double From, double To, int WithinMonths, double Noticed);
