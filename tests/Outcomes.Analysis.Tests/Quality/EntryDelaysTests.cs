using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests.Analysis;

/// <summary>Months of which records are still to come, by the delays of earlier records.</summary>
public sealed class EntryDelaysTests
{
    private static readonly Month First = new(2024, 1);

    private static readonly Month Last = new(2025, 12);

    // Of 10 records a month 5 are entered within a day and 5 after ten days: 240 h.
    private static readonly LevelCount[] Delays =
        [.. First.To(Last).SelectMany(month => new[] { new LevelCount(month, "12", 5), new LevelCount(month, "240", 5) })];

    private static readonly Dictionary<Month, long> Records = First.To(Last).ToDictionary(month => month, _ => 10L);

    [Fact]
    public void A_month_lacks_the_share_that_is_not_entered_by_the_reference_date()
    {
        // On 31 December the last ten days (0.5 to 9.5 days ago) lack their late half: (21 + 10 / 2) / 31.
        var found = Assert.Single(EntryDelays.FindProvisional(Delays, Records, Last, new(2025, 12, 31)));
        Assert.Equal((Last, 10L), (found.Month, found.Records));
        Assert.Equal(26 / 31.0, found.Expected, 1e-12);
        Assert.Equal((10 * 31 / 26.0) - 10, found.ToCome, 1e-9);
        // Ten days later all that is to come has come.
        Assert.Empty(EntryDelays.FindProvisional(Delays, Records, Last, new(2026, 1, 10)));
    }

    [Fact]
    public void Delays_of_months_make_several_months_provisional()
    {
        LevelCount[] slow =
            [.. First.To(Last).SelectMany(month => new[] { new LevelCount(month, "12", 5), new LevelCount(month, "1440", 5) })];
        Assert.Equal([Last.AddMonths(-1), Last],
            EntryDelays.FindProvisional(slow, Records, Last, new(2025, 12, 31)).Select(each => each.Month));
    }

    [Theory]
    [InlineData(3)] // months of delays: fewer than 40 records
    [InlineData(0)]
    public void Without_enough_earlier_delays_nothing_is_said(int months) =>
        Assert.Empty(EntryDelays.FindProvisional(Delays.Where(row => row.Month < First.AddMonths(months)), Records,
            Last, new(2025, 12, 31)));

    [Fact]
    public void A_provisional_month_is_not_tested_and_waits_for_an_evaluation()
    {
        var change = new DeclaredChange(new(2025, 1, 1), "Invented", ["event"], Direction.Down, NewPhase: false, "")
        {
            Plan = new(12, null)
        };
        var department = Department(change);
        var (soon, later) = (Analyse.Department(department with { Delays = Delays }), Analyse.Department(department));
        Assert.Equal((Last, 11, 12), (Assert.Single(soon.Provisional).Month, Reports(soon), Reports(later)));
        Assert.Equal((EvaluationState.Waiting, EvaluationState.Unclear), (soon.Changes[0].State, later.Changes[0].State));

        static int Reports(Figures figures) => figures.Measures[0].Signal!.Window!.Reading.Months.Length;
    }

    private static DepartmentCounts Department(DeclaredChange change) => new()
    {
        Plan = new()
        {
            Name = "harbour",
            Definitions = new(FieldDictionary.Shipped,
                [new("event", "Event") { Eligible = "adult", Met = "spo2_min < 90", Direction = Direction.Down }], [], [], ""),
            Month = Last,
            AsOf = Last.LastDay,
            Headline = ["event"],
            Changes = [change],
        },
        Records = Records,
        Counts = new([.. First.To(Last).Select(month => new CountRow("event", month, CountRow.All, CountRow.All, new(2, 10, 0)))], [], [],
            []),
    };
}
