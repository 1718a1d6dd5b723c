using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Measures too rare for a monthly test, compared once a year.</summary>
public static class RareYears
{
    private const double LeastRate = 0.05, LeastEventsYearly = 5, YearlyErrors = 0.05;
    private const int Months = 12;

    // The exact test is not made of more.
    private const long MostCases = 1_000_000;

    /// <summary>
    /// Whether an event is too rare for a monthly test: under 5 % of the history's cases, or under five a year. Fixed by the history alone,
    /// so that it is decided before the months that are tested.
    /// </summary>
    /// <param name="measure">The measure.</param>
    /// <param name="history">The months of its history.</param>
    public static bool IsRare(Measure measure, ReadOnlySpan<Count> history)
    {
        ArgumentNullException.ThrowIfNull(measure);
        var all = Sum(history);
        var events = measure.Direction == Direction.Up ? all.Eligible - all.Met : all.Met;
        return all.Eligible > 0 && (events < LeastRate * all.Eligible || events * Months < LeastEventsYearly * history.Length);
    }

    /// <summary>The comparison of every measure that has a better side and is too rare, by its id.</summary>
    /// <param name="plan">The measures.</param>
    /// <param name="book">Their counts.</param>
    /// <param name="signals">Where the history of each ends.</param>
    public static ImmutableDictionary<string, RareYear> Compare(AnalysisPlan plan, SeriesBook book, ChangeSignals signals)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(signals);
        var rare = new List<(Measure Measure, ImmutableArray<Count> Months, int History, Month From)>();
        foreach (var measure in plan.Definitions.Measures)
            if (measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None, Population: not Population.Children }
                && book.Whole(measure.Id) is { } series && signals.Span(measure, series) is { History: { } history } span
                && IsRare(measure, series.Counts.AsSpan()[span.First..(span.First + history)]))
                rare.Add((measure, series.Counts[span.First..span.End], history, book.First.AddMonths(span.First)));
        return rare.ToImmutableDictionary(each => each.Measure.Id,
            each => Compare(each.Months.AsSpan(), each.History, each.From, YearlyErrors / rare.Count));
    }

    /// <summary>The comparison of one measure.</summary>
    /// <param name="series">Its months, without one that is not over.</param>
    /// <param name="history">Months of history at the start of the series.</param>
    /// <param name="first">The first month of the series.</param>
    /// <param name="level">The part of the yearly 5 % that is its own.</param>
    public static RareYear Compare(ReadOnlySpan<Count> series, int history, Month first, double level)
    {
        var years = (series.Length - history) / Months;
        var due = first.AddMonths(history + ((years + 1) * Months) - 1);
        if (years == 0)
            return new(due, null, default, Sum(series[..history]), null, level);
        var from = history + ((years - 1) * Months);
        var (year, before) = (Sum(series[from..(from + Months)]), Sum(series[..from]));
        return new(due, (first.AddMonths(from), first.AddMonths(from + Months - 1)), year, before,
            Math.Max(year.Eligible, before.Eligible) > MostCases ? null : FisherExact.Test(year, before)?.TwoSided, level);
    }

    private static Count Sum(ReadOnlySpan<Count> months)
    {
        var sum = default(Count);
        foreach (var month in months)
            sum += month;
        return sum;
    }
}
