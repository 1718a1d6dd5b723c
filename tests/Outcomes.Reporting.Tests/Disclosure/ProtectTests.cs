using System.Collections.Immutable;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;
using Outcomes.Reporting.Model;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tests.Disclosure;

// Thresholds and rounding: common practice in published health counts.
public class ProtectTests
{
    private static readonly Month First = new(2024, 1);
    private static readonly DisclosureRule Network = DisclosureRule.For(Audience.Network)!;
    private static readonly DisclosureRule Public = DisclosureRule.For(Audience.Public)!;

    [Fact]
    public void Months_join_a_block_until_nothing_in_it_is_small_and_the_rest_waits()
    {
        // Worked by hand: 7/9 has two not met; with 6/9 there are five; the last month has one not met and is in no total.
        var release = Protect.Of([Series(new Count(7, 9, 0), new Count(6, 9, 0), new Count(5, 10, 0), new Count(8, 9, 0))], First, Network, []);
        Assert.Equal(
            [("2024-01/2024-03", new Count(18, 28, 0), CellKind.Total), ("2024-01/2024-03", new Count(18, 28, 0), CellKind.Recent), ("2024-01/2024-02", new Count(13, 18, 0), CellKind.Block), ("2024-03/2024-03", new Count(5, 10, 0), CellKind.Block)],
            release.Cells.Select(cell => ($"{cell.From}/{cell.To}", cell.Count, cell.Kind)));
    }

    [Fact]
    public void Every_part_that_is_shown_is_none_or_at_least_the_threshold()
    {
        foreach (var rule in (DisclosureRule[])[Network, Public])
            for (var seed = 0; seed < 200; seed++)
                foreach (var cell in Protect.Of(Wards.Of(seed, 24), First, rule with { RoundTo = 1 }, []).Cells)
                    Assert.True(rule.Safe(cell.Count), $"{seed} {cell}");
    }

    [Fact]
    public void Months_without_an_event_are_not_shown_before_months_that_wait_because_of_a_few()
    {
        // 0/40 alone would say that it never happens; with the two that follow it is 2/80.
        Assert.Empty(Protect.Of([Series(new Count(0, 40, 0), new Count(2, 40, 0))], First, Network, []).Cells);
        Assert.Equal(new Count(5, 120, 0), Protect.Of([Series(new Count(0, 40, 0), new Count(2, 40, 0), new Count(3, 40, 0))], First, Network, []).Cells[0].Count);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(12, 10)]
    [InlineData(13, 15)]
    [InlineData(17, 15)]
    public void The_public_sees_counts_rounded_to_five(long number, long shown) =>
        Assert.Equal(new Count(shown, shown, shown), Public.Shown(new Count(number, number, number)));

    [Theory]
    [InlineData(0, true)]
    [InlineData(1, false)]
    [InlineData(4, false)]
    [InlineData(5, true)]
    public void A_measure_is_left_out_when_a_correction_moves_an_earlier_block_by_a_small_number(int more, bool shown)
    {
        var before = Protect.Of([Series(new Count(20, 40, 0))], First, Network, []);
        var now = Protect.Of([Series(new Count(20 + more, 40 + more, 0))], First, Network, [AttackTests.Earlier(before)]);
        Assert.Equal(shown, now.Withheld.IsEmpty);
        Assert.Equal(shown, !now.Cells.IsEmpty);
    }

    [Fact]
    public void Small_levels_take_the_smallest_safe_one_with_them_so_that_the_rest_is_not_small()
    {
        ImmutableArray<(string, Count)> levels = [("a", new Count(20, 40, 0)), ("b", new Count(6, 12, 0)), ("c", new Count(1, 2, 0))];
        Assert.Equal([("a", new Count(20, 40, 0)), (Protect.Other, new Count(7, 14, 0))], Protect.Split(levels, Network));
    }

    private static MeasureSeries Series(params Count[] counts) => new("m", "emergency", [.. counts], []);
}
