using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>How far one event lies behind another.</summary>
/// <param name="Month">The month of the event; for an open gap the report month.</param>
/// <param name="Cases">Cases up to and including the event; for an open gap those since.</param>
/// <param name="Days">Days from the one to the other; null where a date is not known.</param>
public sealed record EventGap(Month Month, long Cases, int? Days);

/// <summary>A measure whose events are nearly those of another.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="EventIsNotMet">True where its event is that a case did not meet it.</param>
/// <param name="Count">Its events out of its cases.</param>
/// <param name="Shared">How many of its events are events of the other too.</param>
public sealed record AlikeEvents(Measure Measure, bool EventIsNotMet, Count Count, long Shared);

/// <summary>A proportion too close to none or all for a run chart, told by its rarer answer: case by case.</summary>
public sealed record RareEvents
{
    public required Measure Measure { get; init; }

    /// <summary>True where the event is that a case did not meet the measure.</summary>
    public bool EventIsNotMet { get; init; }

    /// <summary>First and last month looked at.</summary>
    public required Month From { get; init; }

    public required Month To { get; init; }

    /// <summary>Events out of judged cases, in all these months.</summary>
    public required Count Count { get; init; }

    /// <summary>Its estimate; null without a case.</summary>
    public Estimate? Estimate { get; init; }

    /// <summary>One-sided exact 95 % upper bound where there was none; null otherwise.</summary>
    public double? UpperWhenNone { get; init; }

    /// <summary>From the start of the records to the first event: no gap between two; null without an event.</summary>
    public EventGap? First { get; init; }

    /// <summary>From each event to the next, in order of time.</summary>
    public ImmutableArray<EventGap> Gaps { get; init; } = [];

    /// <summary>Since the last event; null without one.</summary>
    public EventGap? Since { get; init; }

    /// <summary>
    /// The same in days: with limits from an exponential distribution; null where a date is not known or there are fewer than three events.
    /// </summary>
    public ControlChart? DaysChart { get; init; }

    /// <summary>Cases between events with limits from the gaps that end in the baseline, the open gap last; null without a gap.</summary>
    public ControlChart? Chart { get; init; }

    /// <summary>The declared baseline's months.</summary>
    public (Month From, Month To) Baseline { get; init; }

    /// <summary>Events out of cases in the baseline.</summary>
    public Count BaselineCount { get; init; }

    /// <summary>Events out of cases after it.</summary>
    public Count AfterCount { get; init; }

    /// <summary>Events after the baseline against those that its rate foretells, taken as known; null without any expected.</summary>
    public CumulativePoint? AfterPoint { get; init; }

    /// <summary>The ratio of the two rates, the baseline's own uncertainty included; null where neither period had an event.</summary>
    public RatioEstimate? Ratio { get; init; }

    /// <summary>The measure under which it is told, where nearly the same records are its events; null where it is told itself.</summary>
    public Measure? ToldUnder { get; init; }

    /// <summary>Measures that have nearly the same records as events, with how many of these are shared.</summary>
    public ImmutableArray<AlikeEvents> Alike { get; init; } = [];
}
