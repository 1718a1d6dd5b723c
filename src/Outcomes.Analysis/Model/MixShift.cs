using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// The months of a change where the case mix is followed: what was seen, and what was to be expected of so many cases and of these cases.
/// </summary>
/// <param name="Count">Met and eligible from the likeliest start of the change to its signal.</param>
/// <param name="Usual">Met among them at the history's rate, whoever the patients were.</param>
/// <param name="Given">Met among them at the history's rate, given their case mix.</param>
public sealed record MixShift(Count Count, double Usual, double Given)
{
    // Less of a difference than this is not worth the word "changed". Judgement.
    private const double Part = 0.25;

    /// <summary>
    /// The part of what was seen that the patients explain: 1 is all of it; negative where they should have moved the figure the other way.
    /// </summary>
    public double Explained => Count.Met == Usual ? 0 : (Given - Usual) / (Count.Met - Usual);

    /// <summary>Whether the patients moved the figure, by a quarter of what was seen or more, the way in which it moved.</summary>
    public bool Explains => Explained >= Part;

    /// <summary>
    /// Whether the patients moved the figure so far the other way that a quarter or more of the change given the patients does not
    /// show in the counts.
    /// </summary>
    public bool Hides => Count.Met != Given && (Usual - Given) / (Count.Met - Given) >= Part;

    /// <summary>
    /// Of the change that is named in the signal, and else of that which the counts alone show; null where the case mix is not followed or
    /// neither shows one.
    /// </summary>
    public static MixShift? Of(MeasureFigures report)
    {
        ArgumentNullException.ThrowIfNull(report);
        if (report.Signal is not { CountsAlone: { } alone } signal
            || (signal.Change is null ? alone : signal) is not { Change: { } change, Window: { } window })
            return null;
        // The months are in a window of the one that follows the case mix, which alone says what it expects of them.
        if (signal.Windows.FirstOrDefault(each => each.ReportsFrom == window.ReportsFrom) is not { Reading: var reading })
            return null;
        var months = reading.Months[change.Start.Likeliest..(change.Report + 1)];
        var count = months.Aggregate(default(Count), (sum, month) => sum + month.Count);
        var bad = months.Sum(month => month.Expected ?? 0);
        var rate = (reading.History.Met + 0.5) / (reading.History.Eligible + 1);
        return new(count, count.Eligible * rate, report.Measure.Direction == Direction.Up ? count.Eligible - bad : bad);
    }
}
