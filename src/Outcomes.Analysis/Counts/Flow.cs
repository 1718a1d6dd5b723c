using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>
/// Who is counted: the records of a period, those left out by the first reason that holds, and those analysed. It adds up.
/// </summary>
/// <param name="NotEmergency">Planned procedures.</param>
/// <param name="UnderSixteen">Children, who have figures of their own.</param>
/// <param name="NoAttempt">Records that state that no airway attempt was made.</param>
/// <param name="NotKnown">Records that do not say whether they belong.</param>
/// <param name="Analysed">The emergency population.</param>
public sealed record Flow(long NotEmergency, long UnderSixteen, long NoAttempt, long NotKnown, long Analysed)
{
    /// <summary>The flow of a month without records.</summary>
    public static Flow Empty { get; } = new(0, 0, 0, 0, 0);

    /// <summary>All records of the period.</summary>
    public long Recorded => NotEmergency + UnderSixteen + NoAttempt + NotKnown + Analysed;

    public static Flow operator +(Flow first, Flow second) => new(
        first.NotEmergency + second.NotEmergency, first.UnderSixteen + second.UnderSixteen, first.NoAttempt + second.NoAttempt,
        first.NotKnown + second.NotKnown, first.Analysed + second.Analysed);

    /// <summary>The flow of one month.</summary>
    /// <param name="recorded">All its records: one without an answer, such as one whose date a rule blanked, is not known.</param>
    /// <param name="counted">Those with an answer, by <c>counted_as</c>.</param>
    /// <exception cref="ArgumentException">More have an answer than there are.</exception>
    public static Flow Of(long recorded, IEnumerable<LevelCount> counted)
    {
        var answers = counted.ToLookup(row => row.Level, row => row.Records);
        var flow = new Flow(
            Sum("not_emergency"), Sum("under_16"), Sum("no_attempt"), Sum("not_known"), Sum("analysed"));
        return flow.Recorded <= recorded
            ? flow with { NotKnown = flow.NotKnown + recorded - flow.Recorded }
            : throw new ArgumentException($"{flow.Recorded} records have an answer, and there are {recorded}.", nameof(counted));

        long Sum(string level) => answers[level].Sum();
    }

    /// <summary>Flows by month; null where the records were not asked.</summary>
    public static IReadOnlyDictionary<Month, Flow>? ByMonth(
        IReadOnlyDictionary<Month, long> records, IReadOnlyCollection<LevelCount> counted)
    {
        ArgumentNullException.ThrowIfNull(records);
        var months = counted.ToLookup(row => row.Month);
        return counted.Count == 0 ? null : records.ToDictionary(month => month.Key, month => Of(month.Value, months[month.Key]));
    }
}

/// <summary>Where a measure's denominator comes from: of the records that it starts from, those asked and those outside it.</summary>
/// <param name="All">True where it starts from all records, and not from the emergency population.</param>
/// <param name="From">The records that it starts from, those not known to belong included.</param>
/// <param name="NotKnown">Those of them.</param>
/// <param name="Outside">Those that its definition does not ask.</param>
public sealed record DenominatorFlow(bool All, long From, long NotKnown, long Outside);
