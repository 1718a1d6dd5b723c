using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tests.Disclosure;

public class EarlierReleaseTests
{
    private static readonly Month First = new(2024, 1);
    private static readonly Timetable Halves = new(1, 6);
    private static readonly DisclosureRule Network = DisclosureRule.For(Audience.Network)!;
    private static readonly DisclosureRule Public = DisclosureRule.For(Audience.Public)!;

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(5)]
    [InlineData(100)]
    [InlineData(-3)]
    public void A_released_period_stands_whatever_records_came_later_or_were_corrected(int more)
    {
        var before = Protect.Of([Months(20, 40, 6)], First, Halves, Network, []);
        var late = Months(20, 40, 12) with { Counts = [new Count(20 + more, 40 + more, 0), .. Months(20, 40, 11).Counts] };
        var now = Protect.Of([late], First, Halves, Network, [Earlier(before, Network)]).Shown;
        Assert.Equal([("2024-01", new Count(120, 240, 0)), ("2024-07", new Count(120, 240, 0))], Blocks(now));
    }

    [Fact]
    public void Random_corrections_of_released_months_never_show()
    {
        for (var seed = 0; seed < 200; seed++)
        {
            var truth = Wards.Of(seed, 30);
            var rule = seed % 2 == 0 ? Network : Public;
            var years = new Timetable(1, Timetable.Year);
            var before = Protect.Of(Wards.Until(truth, 18), First, years, rule, []);
            // Another ward's first year in place of this one's: everything in the released months has changed.
            var corrected = Wards.Of(seed + 1000, 30);
            var mixed = truth.Select((measure, at) => corrected.Length <= at ? measure : measure with
            {
                Counts = [.. corrected[at].Counts[..12], .. measure.Counts[12..]],
            }).ToImmutableArray();
            var now = Protect.Of(mixed, First, years, rule, [Earlier(before, rule)]).Shown;
            Assert.Equal(before.Shown.Cells.Where(cell => cell.Kind == CellKind.Block),
                now.Cells.Where(cell => cell.Kind == CellKind.Block && cell.From == First));
        }
    }

    [Fact]
    public void A_measure_that_an_earlier_release_hid_or_did_not_ask_for_stays_hidden_in_its_periods()
    {
        var before = Protect.Of([Months(20, 40, 6)], First, Halves, Network, []);
        var now = Protect.Of([Months(20, 40, 12), Months(10, 40, 12) with { Measure = "n" }], First, Halves, Network,
            [Earlier(before, Network)]).Shown;
        Assert.Equal([new Month(2024, 7)], now.Cells.Where(cell => cell is { Measure: "n", Kind: CellKind.Block })
            .Select(cell => cell.From));
    }

    [Fact]
    public void A_period_that_only_others_have_seen_is_shown_by_the_counts_that_they_saw()
    {
        var network = Protect.Of([Months(7, 10, 6)], First, Halves, Network, []);
        var late = Months(7, 10, 6) with { Counts = [new Count(8, 11, 0), .. Months(7, 10, 5).Counts] };
        Assert.Equal([("2024-01", new Count(40, 60, 0))],
            Blocks(Protect.Of([late], First, Halves, Public, [Earlier(network, Network)]).Shown));
    }

    [Fact]
    public void A_period_that_others_saw_rounded_is_shown_exactly_only_where_the_exact_count_is_known()
    {
        var seen = Earlier(Protect.Of([Months(7, 10, 6)], First, Halves, Public, []), Public);
        Assert.Equal([("2024-01", new Count(42, 60, 0))], Blocks(Protect.Of([Months(7, 10, 6)], First, Halves, Network, [seen]).Shown));
        var rounded = seen with { Cells = [.. seen.Cells.Where(cell => cell.Shown).Select(cell => cell with { Exact = false })] };
        Assert.Empty(Protect.Of([Months(7, 10, 6)], First, Halves, Network, [rounded]).Shown.Cells);
    }

    [Fact]
    public void A_period_of_which_nothing_was_shown_stays_hidden_when_a_late_record_makes_it_enough()
    {
        var before = Protect.Of([Series(4, 60), Series(4, 60)], First, Halves, Network, []);
        Assert.Empty(before.Shown.Cells);
        Assert.Empty(Protect.Of([Series(5, 61), Series(5, 61)], First, Halves, Network, [Earlier(before, Network)]).Shown.Cells);
        // And where only its folder is known.
        Assert.Empty(Protect.Of([Series(5, 61), Series(5, 61)], First, Halves, Network,
            [Earlier(before, Network) with { Cells = [], Through = First.AddMonths(5) }]).Shown.Cells);

        static MeasureSeries Series(int met, int eligible) =>
            new("m", true, [new Count(met, eligible, 0), .. new Count[5]], []);
    }

    [Fact]
    public void Periods_of_an_earlier_timetable_stand_and_new_ones_do_not_cut_them()
    {
        var before = Protect.Of([Months(20, 40, 6)], First, Halves, Network, []);
        var now = Protect.Of([Months(20, 40, 24)], First, new Timetable(1, Timetable.Year), Network, [Earlier(before, Network)]).Shown;
        Assert.Equal([("2024-01", new Count(120, 240, 0)), ("2025-01", new Count(240, 480, 0))], Blocks(now));
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(1, false)]
    [InlineData(8, false)]
    [InlineData(10, true)]
    [InlineData(40, true)]
    public void Beside_a_release_from_some_of_the_sources_a_measure_differs_by_nothing_or_by_enough(int more, bool shown)
    {
        var part = Earlier(Protect.Of([Months(20, 40, 6)], First, Halves, Network, []), Network) with { SameRecords = false };
        var whole = Months(20, 40, 6) with { Counts = [new Count(20 + (more / 2), 40 + more, 0), .. Months(20, 40, 5).Counts] };
        Assert.Equal(shown, Blocks(Protect.Of([whole], First, Halves, Network, [part]).Shown).Length == 1);
        // And where its periods cut the other's, never.
        Assert.Empty(Protect.Of([Months(20, 40, 12)], First, new Timetable(1, 3), Network, [part]).Shown.Cells
            .Where(cell => cell.From < new Month(2024, 7)));
    }

    [Fact]
    public void Beside_a_release_from_some_of_the_sources_no_measure_is_shown_that_it_hides()
    {
        // The records of both measures are the same; two measures shown apart would still lay the difference of a third open.
        var part = Earlier(Protect.Of([Months(20, 40, 6)], First, Halves, Network, []), Network) with { SameRecords = false };
        Assert.Equal(["m"], Protect.Of([Months(20, 40, 6), Months(20, 40, 6) with { Measure = "n" }], First, Halves, Network, [part])
            .Shown.Cells.Select(cell => cell.Measure).Distinct());
    }

    private static EarlierRelease Earlier(ProtectedCounts release, DisclosureRule rule) => AttackTests.Earlier(release, rule);

    private static (string From, Count Count)[] Blocks(Release release) =>
        [.. release.Cells.Where(cell => cell.Kind == CellKind.Block).Select(cell => (cell.From.ToString(), cell.Count))];

    private static MeasureSeries Months(int met, int eligible, int months) =>
        new("m", true, [.. Enumerable.Repeat(new Count(met, eligible, 0), months)], []);
}
