using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting;

/// <summary>
/// What is said where change signals follow the case mix: which do, and what the counts alone would have said where that differs.
/// </summary>
public static class MixWording
{
    private const string Followed =
        "Adjusted for case mix: {0}. Each month is compared with what the model fitted to the baseline expects for "
            + "that month's patients (section Case mix). What the model lacks can still look like a change.";

    private const string NoModel = "Not adjusted for case mix: {0}. There is no model, so a change of patients would look like a change.";

    private const string BaselineWatched = "Not adjusted for case mix: {0}. The model was fitted to months that are themselves tested, and "
        + "would have learnt the change that it is to find.";

    /// <summary>Whether the counts alone would have said something else: a signal or none, or the other way.</summary>
    public static bool Differs(MeasureSignal signal)
    {
        ArgumentNullException.ThrowIfNull(signal);
        return signal.CountsAlone is { } alone && alone.Change?.ForTheWorse != signal.Change?.ForTheWorse;
    }

    /// <summary>A sentence or two on that; empty where they agree.</summary>
    public static string Difference(MeasureFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (report.Signal is not { CountsAlone: { } alone } signal || !Differs(signal) || MixShift.Of(report) is not { } shift)
            return "";
        if (alone.Change is not { } counted)
            return shift.Hides
                ? $"The counts alone show no change, for the patients changed too, and hid it: {Seen(shift)}."
                : $"The counts alone do not show it: {Seen(shift)}.";
        var looks = $"they look {Way(report, counted.ForTheWorse)} since {SignalWording.Started(alone)}";
        if (signal.Change is not null)
            return $"The counts alone look the other way ({looks}): {Seen(shift)}.";
        return shift.Explains
            ? $"The counts changed ({looks}), but so did the patients: {Seen(shift)}. For patients like these nothing has "
                + "changed beyond chance."
            : $"The counts alone would give a signal ({looks}); seen with the patients it is not beyond chance: {Seen(shift)}.";
    }

    /// <summary>
    /// For beside the proportion since a change: what was to be expected of these patients; empty where the case mix is not followed.
    /// </summary>
    public static string Expected(MeasureFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Signal?.Change is not null && MixShift.Of(report) is { } shift
            ? $"; for these patients the history’s rate would give {Wording.Quantity(shift.Given)} "
                + $"of {Wording.Number(shift.Count.Eligible)}" : "";
    }

    /// <summary>Of which measures the case mix is followed, and why not of others that were asked for; empty where none was.</summary>
    public static string Which(IReadOnlyList<MeasureFigures> watched)
    {
        ArgumentNullException.ThrowIfNull(watched);
        return string.Join(" ",
            new[] { Of(MixUse.Followed, Followed), Of(MixUse.NoModel, NoModel), Of(MixUse.BaselineWatched, BaselineWatched) }
                .Where(part => part.Length > 0));

        string Of(MixUse use, string sentence)
        {
            string[] titles = [.. watched.Where(measure => measure.Signal?.Mix == use).Select(measure => measure.Measure.Title)];
            return titles.Length == 0 ? "" : string.Format(CultureInfo.InvariantCulture, sentence, FirstPageWording.Listed(titles));
        }
    }

    /// <summary>Which way the figure goes when it gets worse or better.</summary>
    internal static string Way(MeasureFigures report, bool forTheWorse) =>
        forTheWorse == (report.Measure.Direction == Direction.Up) ? "lower" : "higher";

    private static string Seen(MixShift shift) =>
        $"{Wording.Fraction(shift.Count)} in those months, where the history’s rate would give {Wording.Quantity(shift.Usual)} whoever the "
            + $"patients were, and {Wording.Quantity(shift.Given)} for these patients";
}
