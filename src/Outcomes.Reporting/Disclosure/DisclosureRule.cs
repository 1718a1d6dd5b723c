using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Disclosure;

/// <summary>Which counts an audience outside the department may see.</summary>
/// <param name="Audience">For whom.</param>
/// <param name="Threshold">
/// Counts from 1 to one below this are not shown, and no period or group with fewer eligible records. 5 for a network and 10 for the
/// public are common practice: published thresholds for health counts run from 3 to 10.
/// </param>
/// <param name="RoundTo">Every count is rounded to a multiple of this; 1 leaves it as it is.</param>
public sealed record DisclosureRule(Audience Audience, int Threshold, int RoundTo)
{
    /// <summary>The rule of an audience; null for the department, which sees its own numbers.</summary>
    public static DisclosureRule? For(Audience audience) => audience switch
    {
        Audience.Department => null,
        Audience.Network => new(audience, 5, 1),
        _ => new(audience, 10, 5),
    };

    /// <summary>
    /// A measure of which fewer records than this are missing is not shown, unless none are. Measures share fields: what is missing for
    /// one that is hidden is among what is missing for others that are shown, and their differences say the least of it. So it needs as
    /// much room again.
    /// </summary>
    public int LeastMissing => 2 * Threshold;

    /// <summary>True for zero, and for a number that is not small.</summary>
    public bool Safe(long number) => number == 0 || number >= Threshold;

    /// <summary>
    /// True when met and not met are safe, missing is none or <see cref="LeastMissing"/>, and enough records are eligible for a zero to
    /// tell nothing of a person.
    /// </summary>
    public bool Safe(Count count) =>
        count.Eligible >= Threshold && Safe(count.Met) && Safe(count.Eligible - count.Met)
            && (count.Missing == 0 || count.Missing >= LeastMissing);

    /// <summary>
    /// True when the records of a count (eligible and missing) are as many as those of each other count, or differ by twice the threshold:
    /// those who belong to one measure and not to another are a group too, and a small group of a third measure within it needs as much
    /// room again to hide.
    /// </summary>
    public bool Apart(Count count, IEnumerable<Count> others) =>
        others.All(other => Math.Abs(count.Eligible + count.Missing - other.Eligible - other.Missing) is var difference
            && (difference == 0 || difference >= 2 * Threshold));

    /// <summary>A count as it is shown: each part rounded on its own, halves up, so that met is never above eligible.</summary>
    public Count Shown(Count count) => new(Rounded(count.Met), Rounded(count.Eligible), Rounded(count.Missing));

    private long Rounded(long number) => (number + (RoundTo / 2)) / RoundTo * RoundTo;
}
