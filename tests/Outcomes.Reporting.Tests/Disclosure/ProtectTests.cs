using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tests.Disclosure;

// Thresholds and rounding: common practice in published health counts.
public class ProtectTests
{
    private static readonly Month First = new(2024, 1);
    private static readonly DisclosureRule Network = DisclosureRule.For(Audience.Network)!;
    private static readonly DisclosureRule Public = DisclosureRule.For(Audience.Public)!;

    [Fact]
    public void Months_join_the_periods_of_the_timetable_and_one_that_is_not_over_waits()
    {
        // Worked by hand: 13 of 18 and 13 of 19 in the first two pairs of months; the fifth month is in no total.
        var release = Of([Series(new Count(7, 9, 0), new Count(6, 9, 0), new Count(5, 10, 0), new Count(8, 9, 0), new Count(8, 9, 0))],
            Network, months: 2);
        Assert.Equal(
            [("2024-01/2024-04", new Count(26, 37, 0), CellKind.Total), ("2024-01/2024-04", new Count(26, 37, 0), CellKind.Recent),
                ("2024-01/2024-02", new Count(13, 18, 0), CellKind.Block), ("2024-03/2024-04", new Count(13, 19, 0), CellKind.Block)],
            release.Cells.Select(cell => ($"{cell.From}/{cell.To}", cell.Count, cell.Kind)));
    }

    [Theory]
    [InlineData(1, 12, "2024-03", "2026-02", "2024-01/2024-12 2025-01/2025-12")]
    [InlineData(4, 12, "2024-03", "2026-03", "2023-04/2024-03 2024-04/2025-03 2025-04/2026-03")]
    [InlineData(4, 6, "2024-10", "2025-08", "2024-10/2025-03")]
    [InlineData(11, 6, "2024-04", "2024-10", "2023-11/2024-04 2024-05/2024-10")]
    public void Periods_begin_in_a_month_of_the_calendar_and_end_before_the_last(
        int from, int months, string first, string last, string expected)
    {
        Assert.True(Month.TryParse(first, out var one) & Month.TryParse(last, out var other));
        Assert.Equal(expected, string.Join(' ', new Timetable(from, months).Between(one, other).Select(each => $"{each.From}/{each.To}")));
    }

    [Fact]
    public void Where_in_a_period_the_events_lie_changes_no_release()
    {
        foreach (var rule in (DisclosureRule[])[Network, Public])
            for (var seed = 0; seed < 200; seed++)
            {
                var truth = Wards.Of(seed, 30);
                Assert.Equal(Of(truth, rule).Cells, Of([.. truth.Select(Turned)], rule).Cells);
            }

        // Every year backwards: what was its last month is its first.
        static ImmutableArray<Count> Backwards(ImmutableArray<Count> counts) =>
            [.. counts.Chunk(12).SelectMany(year => year.Reverse())];
        static MeasureSeries Turned(MeasureSeries measure) => measure with
        {
            Counts = Backwards(measure.Counts),
            Levels = [.. measure.Levels.Select(level => level with { Counts = Backwards(level.Counts) })],
        };
    }

    [Fact]
    public void Every_part_that_is_shown_is_none_or_at_least_the_threshold()
    {
        foreach (var rule in (DisclosureRule[])[Network, Public])
            for (var seed = 0; seed < 200; seed++)
                foreach (var cell in Of(Wards.Of(seed, 24), rule with { RoundTo = 1 }).Cells)
                    Assert.True(rule.Safe(cell.Count), $"{seed} {cell}");
    }

    [Theory]
    [InlineData(0, true)]
    [InlineData(1, false)]
    [InlineData(9, false)]
    [InlineData(10, true)]
    public void Missing_records_need_twice_the_room_of_others(int missing, bool shown) =>
        Assert.Equal(shown, !Of([Series(new Count(10, 20, missing), new Count(10, 20, 0))], Network, months: 2).Cells.IsEmpty);

    [Fact]
    public void A_measure_that_a_period_had_too_few_of_is_not_shown_where_it_was_frequent()
    {
        // 0/40 alone would say that it never happens; 6/40 after it, that it happens as often as in its worst month.
        Assert.Empty(Of([Series(new Count(0, 40, 0), new Count(6, 40, 0))], Network, months: 1).Cells);
        Assert.Equal(new Count(5, 120, 0),
            Of([Series(new Count(0, 40, 0), new Count(2, 40, 0), new Count(3, 40, 0))], Network, months: 3).Cells[0].Count);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(12, 10)]
    [InlineData(13, 15)]
    [InlineData(17, 15)]
    public void The_public_sees_counts_rounded_to_five(long number, long shown) =>
        Assert.Equal(new Count(shown, shown, shown), Public.Shown(new Count(number, number, number)));

    [Fact]
    public void Small_levels_take_the_smallest_safe_one_with_them_so_that_the_rest_is_not_small()
    {
        ImmutableArray<(string, ImmutableArray<Count>)> levels =
        [
            ("a", [new Count(20, 40, 0)]), ("b", [new Count(6, 12, 0)]), ("c", [new Count(1, 2, 0)])
        ];
        Assert.Equal(["a"], Groups.Alone(levels, [new Count(27, 54, 0)], Network));
    }

    [Fact]
    public void A_level_that_is_small_for_one_measure_stands_alone_for_none()
    {
        ImmutableArray<(string, ImmutableArray<Count>)> levels =
            [
                ("a", [new Count(20, 40, 0), new Count(20, 40, 0)]), ("b", [new Count(6, 12, 0), new Count(9, 12, 0)]),
                ("c", [new Count(9, 20, 0), new Count(9, 20, 0)])
            ];
        Assert.Equal(["a"], Groups.Alone(levels, [new Count(35, 72, 0), new Count(38, 72, 0)], Network));
    }

    [Fact]
    public void All_measures_have_the_same_periods_so_that_one_does_not_cut_another()
    {
        // Worked by hand: of the same ten records a month, m and o are enough in two months; n has four met and is in none.
        Count[] often = [.. Enumerable.Repeat(new Count(3, 10, 0), 4)];
        var release = Of([Series(often), Series([.. Enumerable.Repeat(new Count(2, 10, 0), 4)]) with { Measure = "n" },
            Series([.. Enumerable.Repeat(new Count(4, 10, 0), 4)]) with { Measure = "o", Headline = false }], Network, months: 2);
        Assert.Equal([("m", "2024-01/2024-02"), ("m", "2024-03/2024-04"), ("o", "2024-01/2024-02"), ("o", "2024-03/2024-04")],
            release.Cells.Where(cell => cell.Kind == CellKind.Block).Select(cell => (cell.Measure, $"{cell.From}/{cell.To}")));
    }

    [Fact]
    public void A_measure_whose_records_are_a_few_less_than_those_of_a_measure_before_it_is_left_out()
    {
        // n lacks two records of the first month, o lacks ten.
        MeasureSeries Lacking(string name, int records) =>
            Series([new Count(10 - (records / 2), 20 - records, 0), .. Enumerable.Repeat(new Count(10, 20, 0), 5)]) with { Measure = name };
        var release = Of([Lacking("m", 0), Lacking("n", 2), Lacking("o", 10)], Network, months: 6);
        Assert.Equal(["m", "o"], release.Cells.Select(cell => cell.Measure).Distinct());
    }

    [Fact]
    public void What_is_split_by_a_stratum_is_one_year_for_every_measure_in_it()
    {
        var split = 0;
        for (var seed = 0; seed < 200; seed++)
        {
            var cells = Of(Wards.Of(seed, 30), Network).Cells;
            Assert.All(cells, cell => Assert.True(cell.To.MonthsSince(cell.From) >= 11, $"{seed} {cell}"));
            foreach (var of in cells.Where(cell => !cell.IsWhole).GroupBy(cell => (cell.Stratum, cell.From, cell.To)))
            {
                Assert.Equal(
                    cells.Where(cell => cell is { IsWhole: true, Kind: CellKind.Block } && cell.From == of.Key.From && cell.To == of.Key.To)
                        .Select(cell => cell.Measure).Distinct(),
                    of.Select(cell => cell.Measure).Distinct());
                split++;
            }
        }

        Assert.True(split > 20, $"{split}");
    }

    [Fact]
    public void Periods_and_groups_of_a_public_release_are_whole_ones_of_the_release_for_a_network()
    {
        var merged = 0;
        for (var seed = 0; seed < 200; seed++)
        {
            var truth = Wards.Of(seed, 30);
            var (network, wide) = (Of(truth, Network).Cells, Of(truth, Public).Cells);
            foreach (var cell in wide)
            {
                var parts = network.Where(part => part.Kind == CellKind.Block && part.Measure == cell.Measure
                    && part.Stratum == cell.Stratum && part.From >= cell.From && part.To <= cell.To).ToArray();
                Assert.True(parts.Any(part => part.From == cell.From) && parts.Any(part => part.To == cell.To), $"{seed} {cell}");
                if (cell.Level == CountRow.All || cell.Level == Protect.Other) continue;
                Assert.Contains(parts, part => part.Level == cell.Level);
                merged++;
            }
        }

        Assert.True(merged > 20, $"{merged}");
    }

    [Fact]
    public void No_split_is_of_a_shorter_period_than_a_year()
    {
        for (var seed = 0; seed < 50; seed++)
            Assert.All(Of(Wards.Of(seed, 30), Network, months: 6).Cells, cell => Assert.True(cell.IsWhole));
    }

    private static Release Of(ImmutableArray<MeasureSeries> measures, DisclosureRule rule, int months = Timetable.Year) =>
        Protect.Of(measures, First, new Timetable(First.Number, months), rule, []).Shown;

    private static MeasureSeries Series(params Count[] counts) => new("m", true, [.. counts], []);
}
