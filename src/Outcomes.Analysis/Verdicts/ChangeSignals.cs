using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Reads the headline measures for change, all of them under one false-alarm budget.</summary>
/// <param name="plan">Which measures, which history, at what pace.</param>
/// <param name="book">The counts, from the first month to the report month.</param>
/// <param name="mixes">The case mix of the measures for which the pipeline asks it.</param>
/// <param name="lastComplete">The last month that is over and complete enough to be tested.</param>
public sealed class ChangeSignals(AnalysisPlan plan, SeriesBook book, ImmutableArray<FittedMix> mixes, Month lastComplete)
{
    // Each headline measure spends the same part, whether or not it has cases: what is tested is chosen before looking.
    public MonthlyTestOptions Options { get; } =
        new() { Pace = plan.Pace, Measures = Math.Max(1, plan.Definitions.Measures.Count(measure => IsTested(plan, measure))) };

    /// <summary>Whether a measure is read for change: a headline proportion that has a better side.</summary>
    public static bool IsTested(AnalysisPlan plan, Measure measure) =>
        measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None } && plan.Headline.Contains(measure.Id);

    /// <summary>Which way a measure gets better.</summary>
    public static Better BetterOf(Measure measure) => measure.Direction == Direction.Up ? Better.Up : Better.Down;

    /// <summary>
    /// The signal of a measure; null where it is not tested, has no counts, or where the whole period is its own baseline. Where its case
    /// mix is known and can be followed, that decides, and the counts alone stand beside it. From the report with which a field of the
    /// model had moved the counts decide again, until there is a new history.
    /// </summary>
    public MeasureSignal? Of(Measure measure)
    {
        if (plan.WholeBaseline || !IsTested(plan, measure) || book.Whole(measure.Id) is not { } series)
            return null;
        var (first, over, history, declared) = Phase(measure, series);
        if (MonthlyTest.CountHistory(MonthlyReading.Events(series.Counts[first..over], measure), history, Options) is { } tested
            && RareYears.IsRare(measure, series.Counts.AsSpan()[first..(first + tested)]))
            return new([], 0, declared) { IsTooRare = true };
        var alone = Read(null);
        if (mixes.FirstOrDefault(mix => mix.Measure.Id == measure.Id) is not { } mix)
            return alone;
        if (Chances(measure) is not { } chances)
            return alone with { Mix = MixUse.NoModel };
        // A model that has seen the tested months has taken their change for the patients' own.
        if (alone.Windows is [var window, ..] && mix.Baseline.To >= window.ReportsFrom)
            return alone with { Mix = MixUse.BaselineWatched };
        if (alone.Window is { } seen
            && MovedFields.Find(mix, seen.HistoryFrom, seen.ReportsFrom, book.First.AddMonths(over - 1)) is { } moved)
            return alone with { Mix = MixUse.FieldMoved, Moved = moved };
        return Read(chances[first..over]) with
        {
            Mix = MixUse.Followed,
            CountsAlone = alone,
            Auc = mix.Fit.Model is { } model ? ExpectedEvents.Six(model.Auc.Value) : null,
        };

        MeasureSignal Read(IReadOnlyList<ImmutableArray<double>>? expected) => new(
            first < over
                ? [MonthlyReading.Read(measure, series.Counts[first..over], book.First.AddMonths(first), history, Options, expected)]
                : [],
            ChangeLimit.Budget(new() { Pace = Options.Pace, Measures = Options.Measures }), declared);
    }

    /// <summary>
    /// The months that a measure is read by: where its phase starts and ends in the book, and how many of them are its history.
    /// </summary>
    /// <returns>Places of the first month and after the last, and the history's months; these are null where there are too few.</returns>
    public (int First, int End, int? History) Span(Measure measure, Series series)
    {
        var (first, over, history, _) = Phase(measure, series);
        return (first, over, MonthlyTest.CountHistory(MonthlyReading.Events(series.Counts[first..over], measure), history, Options));
    }

    private (int First, int Over, int History, Month? Declared) Phase(Measure measure, Series series)
    {
        var over = Math.Clamp(lastComplete.MonthsSince(book.First) + 1, 0, series.Counts.Length);
        var (baseline, history) = plan.Baseline is var (from, months)
            ? (Math.Max(0, from.MonthsSince(book.First)), months)
            : (0, Options.LeastHistoryMonths);
        int[] declared = [.. plan.Changes.Where(change => change.NewPhase && change.Measures.Contains(measure.Id))
            .Select(change => change.FirstWhole.MonthsSince(book.First)).Where(start => start > 0 && start < over)];
        return declared.Length == 0 ? (Math.Min(baseline, over), over, history, null)
            : (declared[^1], over, history, book.First.AddMonths(declared[^1]));
    }

    /// <summary>The chances of the event of a measure's judged records, month by month; null where its case mix has no model.</summary>
    public ImmutableArray<ImmutableArray<double>>? Chances(Measure measure) =>
        mixes.FirstOrDefault(mix => mix.Measure.Id == measure.Id)?.Chances(book);
}
