using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>A change that a department may want to notice.</summary>
/// <param name="To">Proportion met after it.</param>
/// <param name="ForTheWorse">Which way it goes.</param>
/// <param name="Detection">How soon and how surely it would be noticed; null when that cannot be said: too little history.</param>
public sealed record NoticedChange(double To, bool ForTheWorse, ChangeDetection? Detection);

/// <summary>A measure that is tested for change, its signal, and what could be noticed; null where it has too little history.</summary>
public sealed record TestedMeasure(Measure Measure, MeasureSignal Signal, MeasurePower? Power);

/// <summary>What a department could notice of one measure, at its own volume and rate.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Window">The history and reports it is read by.</param>
/// <param name="Rate">The proportion met that it starts from: the likeliest level now, by the monthly test.</param>
/// <param name="Volume">Eligible cases in a month, the mean of history and reports.</param>
/// <param name="Changes">Changes by odds ratios, the worse first.</param>
/// <param name="CasesNeeded">Half-widths of an interval, and the cases that each needs.</param>
public sealed record MeasurePower(
    Measure Measure, SignalWindow Window, double Rate, double Volume, ImmutableArray<NoticedChange> Changes,
    ImmutableArray<(double HalfWidth, long Cases)> CasesNeeded)
{
    // Odds three times and twice as bad, and half as bad: an 85 % success falls to 65 and 74 %, or rises to 92 %.
    private static readonly double[] Worse = [3, 2];
    private static readonly double[] Improved = [0.5];
    private static readonly double[] HalfWidths = [0.10, 0.05];

    private const ulong Seed = 20_261_125;

    /// <summary>What could be noticed of each measure that is tested for change.</summary>
    /// <param name="counted">The counts.</param>
    /// <param name="months">Months ahead.</param>
    /// <param name="replicates">Futures simulated, from a fixed seed.</param>
    public static ImmutableArray<TestedMeasure> Estimate(DepartmentCounts counted, int months, int replicates)
    {
        ArgumentNullException.ThrowIfNull(counted);
        var signals = new ChangeSignals(counted.Plan, counted.Book, FittedMix.FitAll(counted), counted.LastComplete);
        return
        [
            .. counted.Plan.Definitions.Measures.AsParallel().AsOrdered().Select(measure => (Measure: measure, Signal: signals.Of(measure)))
                .Where(pair => pair.Signal is not null)
                .Select(pair => new TestedMeasure(pair.Measure, pair.Signal!,
                    Of(pair.Measure, pair.Signal!, counted.Book, signals.Options, signals.Chances(pair.Measure), months, replicates))),
        ];
    }

    /// <summary>What could be noticed from here on; null where the measure has no history yet, or nothing eligible in it.</summary>
    /// <param name="measure">A measure that is tested.</param>
    /// <param name="signal">Its signal.</param>
    /// <param name="book">The counts that it was read from.</param>
    /// <param name="options">The options that it was read by.</param>
    /// <param name="chances">For every month of the book the chances of the measure's judged records; used where the signal follows the
    /// case mix.</param>
    /// <param name="months">Months ahead.</param>
    /// <param name="replicates">Futures simulated, from a fixed seed.</param>
    public static MeasurePower? Of(Measure measure, MeasureSignal signal, SeriesBook book, MonthlyTestOptions options,
        ImmutableArray<ImmutableArray<double>>? chances, int months, int replicates)
    {
        if (signal.Window is not { Test: { Current: { } level } test } window || book.Whole(measure.Id) is not { } series)
            return null;
        var (from, length) = (window.HistoryFrom.MonthsSince(book.First), test.HistoryMonths + test.Reports.Length);
        var counts = series.Counts[from..(from + length)];
        var events = MonthlyReading.Events(counts, measure);
        var expected = signal.Mix == MixUse.Followed ? chances?[from..(from + length)] : null;
        var better = ChangeSignals.BetterOf(measure);
        var rate = better == Better.Up ? 1 - level.Median : level.Median;
        return new(
            measure, window, rate, events.Sum(month => (long)month.Cases) / (double)length, [.. Worse.Concat(Improved).Select(Change)],
            [.. HalfWidths.Select(half => (half, Precision.Cases(rate, half)))]);

        NoticedChange Change(double badOdds)
        {
            var odds = rate / (1 - rate) * (better == Better.Up ? 1 / badOdds : badOdds);
            var changed = odds / (1 + odds);
            var detection = MonthlyTestPower.Simulate(events, test.HistoryMonths, better == Better.Up ? 1 - changed : changed,
                new(SplitMix64.Uniform(Seed), months, replicates), options, expected);
            return new(changed, badOdds > 1, detection);
        }
    }
}
