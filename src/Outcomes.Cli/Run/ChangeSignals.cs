using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Cli.Run;

/// <summary>Reads the headline measures for change, all of them under one false-alarm budget.</summary>
public sealed class ChangeSignals(Figures figures)
{
    /// <summary>The chance of any false signal on all headline measures together, in one horizon, in a stable department.</summary>
    public const double Budget = 0.10;

    private const int RenewedHistory = 24;

    // Each headline measure spends the same part, whether or not it has cases: what is watched is chosen before looking.
    private readonly ChangeOddsOptions _options = new()
    {
        Pace = figures.Pipeline.Pace,
        FalseAlarm = 1 - Math.Pow(1 - Budget, 1.0 / Math.Max(1, figures.Catalogue.Measures.Count(measure => IsWatched(figures, measure)))),
    };

    /// <summary>Whether a measure is read for change: a headline proportion that has a better side.</summary>
    public static bool IsWatched(Figures figures, Measure measure) =>
        measure is { Kind: MeasureKind.Proportion, Direction: not Direction.None } && figures.Pipeline.Headline.Any(word => word.Word == measure.Id);

    /// <summary>The signal of a measure; null where it is not watched, or where the whole period is its own baseline.</summary>
    /// <param name="measure">The measure.</param>
    /// <param name="series">Its counts from the book's first month on.</param>
    /// <param name="changes">Declared changes of this measure.</param>
    public MeasureSignal? Of(Measure measure, Series series, IEnumerable<DeclaredChange> changes)
    {
        if (figures.Pipeline.WholeBaseline || !IsWatched(figures, measure))
            return null;
        var over = figures.Month.LastDay > figures.AsOf ? series.Counts.Length - 1 : series.Counts.Length;
        var (baseline, history) = figures.Pipeline.Baseline is var (from, months) ? (from.MonthsSince(figures.Book.First), months) : (0, _options.LeastHistoryMonths);
        var phases = changes.Where(change => change.NewPhase).Select(change => change.FirstWhole.MonthsSince(figures.Book.First)).Where(start => start > 0 && start < over).ToArray();
        var signal = new MeasureSignal(
            [.. Windows(series.Counts[..over], phases.Length == 0 ? Math.Max(0, baseline) : phases[^1], history, measure.Direction == Direction.Up ? Better.Up : Better.Down)],
            _options.FalseAlarm,
            phases.Length == 0 ? null : figures.Book.First.AddMonths(phases[^1]));
        return signal with { Withheld = CaptureFell(signal) ? Withheld.CaptureFell : Withheld.No };
    }

    // A budget is for one horizon. After it, without a signal, the last two years become the history of the next.
    private IEnumerable<SignalWindow> Windows(ImmutableArray<Count> counts, int from, int months, Better better)
    {
        while (from + months < counts.Length)
        {
            var first = from + months;
            var to = Math.Min(counts.Length, first + _options.Horizon);
            var reading = ChangeOdds.Read(counts[from..first], counts[first..to], better, _options);
            yield return new(figures.Book.First.AddMonths(from), figures.Book.First.AddMonths(first), reading);
            if (reading.Change is not null || to == counts.Length)
                yield break;
            (from, months) = (to - RenewedHistory, RenewedHistory);
        }
    }

    // Bad cases that are no longer recorded look like improvement. Judgement: a fall of the captured share by more than a tenth.
    private bool CaptureFell(MeasureSignal signal)
    {
        if (signal.Change is not { ForTheWorse: false } change || signal.Window is not { } window || figures.Capture is not { } capture)
            return false;
        return Ratio(capture, window.HistoryFrom, window.HistoryTo) is { } before && Ratio(capture, window.Of(change.Start.From), window.Of(change.Report)) is { } since
            && since < 0.9 * before;
    }

    private static double? Ratio(CaptureReport capture, Month from, Month to)
    {
        var months = capture.Months.Where(month => month.From >= from && month.From <= to).ToArray();
        var counted = months.Sum(month => month.Counted);
        return counted == 0 ? null : months.Sum(month => month.Records) / (double)counted;
    }
}
