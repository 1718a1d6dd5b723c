using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>
/// What change signals say: three states and nothing between them, for a lower tier would have a false-alarm rate of its own.
/// </summary>
public static class SignalWording
{
    /// <summary>A few words, for a table and beside a drawing.</summary>
    public static string Brief(MeasureSignal signal)
    {
        ArgumentNullException.ThrowIfNull(signal);
        var given = MixWording.Differs(signal) ? ", given the patients" : "";
        return (signal.State, signal.Withheld) switch
        {
            (ChangeState.TooFewToJudge, _) => "too few procedures to judge",
            (ChangeState.NoSignOfChange, _) => $"no sign of change{given}",
            (_, Withheld.CaptureFell) => "change signal withheld: fewer procedures were recorded",
            _ => $"change signal in {Wording.Name(signal.Window!.Of(signal.Change!.Report))}{given}",
        };
    }

    /// <summary>The sentence of a measure; <see cref="MixWording.Difference"/> adds what the counts alone would have said.</summary>
    public static string Said(MeasureFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (report.Signal is not { } signal)
            return "";
        return signal.State switch
        {
            ChangeState.TooFewToJudge => $"Too few procedures to judge: {TooFew(signal)}.",
            ChangeState.NoSignOfChange => "No sign of change.",
            _ => Changed(report, signal),
        };
    }

    /// <summary>When it may have started.</summary>
    public static string Started(MeasureSignal signal)
    {
        ArgumentNullException.ThrowIfNull(signal);
        if (signal is not { Change.Start: var start, Window: { } window })
            return "";
        return $"about {Wording.Name(window.Of(start.Likeliest))}" + (start.From == start.To ? "" :
            $" ({Wording.Span(window.Of(start.From), window.Of(start.To))} with {Wording.Chance(start.Chance)})");
    }

    /// <summary>The proportion since the change, as it stood at the signal, and since then.</summary>
    public static string Since(MeasureFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (report.Signal?.Change is not { } change)
            return "";
        var per = report.Measure.Per;
        var since = change.Since is { } at ? $"provisional, it exaggerates: {Rate(at, per)}{MixWording.Expected(report)}" : "";
        var after = change.After is { } later ? $"; after the signal: {Rate(later, per)}" : "; the months after the signal will tell";
        return since + after;
    }

    /// <summary>What this department could see.</summary>
    public static string Could(MeasureSignal signal, int per)
    {
        ArgumentNullException.ThrowIfNull(signal);
        return string.Join("; ", signal.Sights.Select(sight =>
            $"{Wording.Short(sight.From, per)} to {Wording.Short(sight.To, per)}: {Often(sight.Noticed)}"));
    }

    /// <summary>A chance as people say it, in twentieths at most: a simulated chance has no more digits to give.</summary>
    public static string Often(double chance) => chance switch
    {
        < 0.05 => "hardly ever",
        > 0.95 => "nearly always",
        _ => $"about {Math.Round(chance * 20) * 5} times in 100",
    };

    private static string Rate(Estimate estimate, int per) =>
        $"{Wording.Fraction(estimate.Count)}, {Wording.Rate(estimate.Value, per)} ({Wording.Range(estimate.Lower, estimate.Upper, per)})";

    private static string Changed(MeasureFigures report, MeasureSignal signal)
    {
        var change = signal.Change!;
        var way = MixWording.Way(report, change.ForTheWorse)
            + (signal.Mix == MixUse.Followed ? " than expected for these patients," : "");
        if (signal.Withheld == Withheld.CaptureFell)
            return $"It looks {way} since {Started(signal)}, but the share of procedures that were recorded fell in those months. "
                + "Cases that were not recorded could explain it: settle that first.";
        return $"Change signal: it looks {way} since {Started(signal)}."
            + (change.ForTheWorse ? "" : " Bad cases that were not recorded would look the same: see how many procedures were recorded.");
    }

    private static string TooFew(MeasureSignal signal)
    {
        var since = signal.PhaseFrom is { } phase ? $" since the phase that started in {Wording.Name(phase)}" : "";
        return signal.Window is not { Reading: var reading } ? $"a history of at least 12 months has to lie behind{since}"
            : string.Create(CultureInfo.InvariantCulture, $"the history of {reading.HistoryMonths} months "
                + $"has {Wording.Number(reading.History.Eligible)} eligible cases, where 12 months and 40 cases are the least") + since;
    }
}
