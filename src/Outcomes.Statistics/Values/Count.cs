namespace Outcomes.Statistics;

/// <summary>
/// Met, eligible and missing for one measure, month and stratum level. Counts add.
/// </summary>
/// <param name="Met">Eligible records that met the measure.</param>
/// <param name="Eligible">Records judged; met is never more.</param>
/// <param name="Missing">Records that might belong but could not be judged: always outside <paramref name="Eligible"/>.</param>
public readonly record struct Count(long Met, long Eligible, long Missing)
{
    public static Count operator +(Count left, Count right) =>
        new(left.Met + right.Met, left.Eligible + right.Eligible, left.Missing + right.Missing);

    /// <summary>The sum of two counts.</summary>
    public static Count Add(Count left, Count right) => left + right;

    /// <summary>True when nothing was judged and nothing might have been.</summary>
    public bool IsEmpty => Eligible == 0 && Missing == 0;
}
