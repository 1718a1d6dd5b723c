using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>
/// Counts the cohorts of a question in one pass over the records: each cohort is a measure of its own, with its reading by three-valued
/// logic beside it, and so are the records that are in both.
/// </summary>
internal static class CountCohorts
{
    public const string First = "first", Second = "second";

    private const string Both = "both", Decided = " decided";

    public static (CountResult Counts, ValueResult Values) Count(AskedQuestion asked, Engine engine)
    {
        Measure[] cohorts =
        [
            Named(asked.First.Of(asked.Measure), First),
            .. asked.Second is { } second ? (Measure[])[Named(second.Of(asked.Measure), Second)] : [],
        ];
        Measure[] both = asked.Second is { } other && asked.First.MayShare(other)
            ? [Named(other.Of(asked.First.Of(asked.Measure)), Both)] : [];
        Measure[] decided = asked.Measure is { Settled: Settled.All, Missing: MissingRule.Dropped }
            ? [.. cohorts.Select(cohort => cohort with { Id = cohort.Id + Decided, Settled = Settled.Any })] : [];
        return (engine.Count([.. cohorts, .. both, .. decided], asked.Definition.By), engine.Values(cohorts, asked.Definition.By));
    }

    /// <summary>The counts of one cohort, under the measure's own id.</summary>
    public static DepartmentCounts Of((CountResult Counts, ValueResult Values) all, string which, AskedQuestion asked, AnalysisPlan plan,
        IReadOnlyDictionary<Month, long> records)
    {
        var (id, own) = (asked.Measure.Id, Id(asked.Measure, which));
        return new()
        {
            Plan = plan,
            Records = records.Where(month => month.Key <= plan.Month).ToDictionary(),
            Counts = all.Counts with
            {
                Rows = [.. Renamed(own, id), .. Renamed(own + ".known", id + ".known")],
                NotCollected = [.. all.Counts.NotCollected.Where(each => each.Measure == own).Select(each => each with { Measure = id })],
                Assumptions = [.. all.Counts.Assumptions.Where(each => each.Measure == own).Select(each => each with { Measure = id })],
            },
            Values = all.Values with
            {
                Rows = [.. all.Values.Rows.Where(row => row.Measure == own).Select(row => row with { Measure = id })],
                NotCollected = [.. all.Values.NotCollected.Where(each => each.Measure == own).Select(each => each with { Measure = id })],
            },
            Decided = [.. Renamed(own + Decided, id)],
        };

        IEnumerable<CountRow> Renamed(string from, string to) =>
            all.Counts.Rows.Where(row => row.Measure == from).Select(row => row with { Measure = to });
    }

    /// <summary>Eligible records that are in both cohorts.</summary>
    public static long Shared(AskedQuestion asked, (CountResult Counts, ValueResult Values) all) => asked.Second is not { } second ? 0
        : all.Counts.Rows.Where(row => row.Measure == Id(asked.Measure, Both) && row.Stratum == CountRow.All
            && row.Month >= asked.First.From && row.Month <= asked.First.To && row.Month >= second.From && row.Month <= second.To)
            .Sum(row => row.Count.Eligible);

    private static Measure Named(Measure measure, string which) => measure with { Id = Id(measure, which) };

    private static string Id(Measure measure, string which) => $"{measure.Id} {which}";
}
