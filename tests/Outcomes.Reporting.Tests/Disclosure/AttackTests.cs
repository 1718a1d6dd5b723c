using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Disclosure;

namespace Outcomes.Reporting.Tests.Disclosure;

public class AttackTests
{
    private static readonly Month First = new(2024, 1);

    [Theory]
    [InlineData(Audience.Network, 0, 500)]
    [InlineData(Audience.Public, 500, 1_000)]
    public void No_small_cell_of_1_000_departments_is_recovered_from_two_successive_releases(Audience audience, int from, int to)
    {
        var rule = DisclosureRule.For(audience)!;
        var (recovered, shown) = (0, 0);
        for (var seed = from; seed < to; seed++)
        {
            // A set without strata has shorter blocks: every second department asks for none.
            var months = 6 + (seed % 20);
            var truth = Wards.Of(seed, months);
            var given = seed % 2 == 0 ? truth : [.. truth.Select(measure => measure with { Levels = [] })];
            var periods = new Timetable(First.Number, seed % 2 == 0 ? Timetable.Year : 6);
            var before = Protect.Of(Wards.Until(given, months - 1), First, periods, rule, []);
            var now = Protect.Of(given, First, periods, rule, [Earlier(before, rule)]).Shown;
            Assert.Equal(Blocks(before.Shown), Blocks(now).Take(Blocks(before.Shown).Length));
            recovered += Attacker.Recovered(truth, First, before.Shown, now);
            shown += now.Cells.Length;
        }

        Assert.Equal(0, recovered);
        Assert.True(shown > 500, $"an attack on nothing proves nothing: {shown} cells shown");
    }

    [Fact]
    public void The_same_attack_recovers_cells_where_only_small_cells_themselves_are_hidden()
    {
        var rule = DisclosureRule.For(Audience.Network)!;
        var broken = Enumerable.Range(0, 100).Count(seed =>
        {
            var truth = Wards.Of(seed, 12);
            return Attacker.Recovered(truth, First, Careless.Of(truth, First, rule)) > 0;
        });
        Assert.True(broken >= 30, $"{broken} of 100");
    }

    internal static EarlierRelease Earlier(ProtectedCounts release, DisclosureRule rule) =>
        new(rule.Audience, SameRecords: true, ImmutableDictionary<string, string>.Empty, release.Noted);

    private static ReleasedCell[] Blocks(Release release) =>
        [.. release.Cells.Where(cell => cell.Kind == CellKind.Block).OrderBy(cell => cell.From)];
}
