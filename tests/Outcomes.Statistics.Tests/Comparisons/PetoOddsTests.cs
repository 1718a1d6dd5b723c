using Outcomes.Statistics;

namespace Outcomes.Tests;

public class PetoOddsTests
{
    [Fact]
    public void Petos_odds_ratio_equals_the_published_one()
    {
        var check = Check.Find("exact.json", "2.mh.dollhill.peto");
        (Count, Count)[] strata =
            [.. check.Inputs["strata"]!.AsArray().Select(stratum => (Of(stratum!["first"]!), Of(stratum["second"]!)))];
        check.Holds(("or", PetoOdds.Estimate(strata)!.OddsRatio.Value));

        static Count Of(System.Text.Json.Nodes.JsonNode node) => new(node["met"]!.GetValue<long>(), node["eligible"]!.GetValue<long>(), 0);
    }

    [Fact]
    public void Petos_odds_ratio_and_q_equal_those_of_metafor() =>
        // Q is a difference of larger numbers.
        Assert.Equal(8_000, ReferenceTable.Read("r_peto").Compare(row =>
        {
            var strata = Strata(row);
            var (all, one) = (PetoOdds.Estimate(strata, row.Level)!, PetoOdds.Estimate([strata[0]], row.Level)!.OddsRatio);
            return
            [
                ("odds_ratio", all.OddsRatio.Value), ("lower", all.OddsRatio.Lower), ("upper", all.OddsRatio.Upper),
                ("q", all.Homogeneity!.Statistic), ("q_p", all.Homogeneity.PValue), ("one", one.Value), ("one_lower", one.Lower),
                ("one_upper", one.Upper),
            ];
        }));

    [Fact]
    public void Its_distance_from_1_is_that_of_the_Mantel_Haenszel_test()
    {
        foreach (var cells in ReferenceTable.Read("strata").Rows.Take(200))
        {
            (Count, Count)[] strata = Strata(new(["tables"], cells));
            var peto = PetoOdds.Estimate(strata)!;
            Assert.Equal(MantelHaenszel.Test(strata)!.Statistic, peto.Observed * peto.Observed / peto.Variance, 1e-9);
        }
    }

    [Fact]
    public void Groups_that_change_places_give_the_inverse()
    {
        (Count, Count)[] strata = [(new(3, 40, 0), new(9, 44, 0)), (new(0, 25, 0), new(4, 31, 0))];
        var (peto, turned) =
            (PetoOdds.Estimate(strata)!.OddsRatio, PetoOdds.Estimate([.. strata.Select(s => (s.Item2, s.Item1))])!.OddsRatio);
        Assert.Equal(1, peto.Value * turned.Value, 1e-12);
        Assert.Equal(1, peto.Lower * turned.Upper, 1e-12);
        Assert.InRange(peto.Value, peto.Lower, peto.Upper);
    }

    [Fact]
    public void Strata_that_cannot_tell_change_nothing()
    {
        (Count, Count)[] one = [(new(3, 40, 0), new(9, 44, 0))];
        var alone = PetoOdds.Estimate(one)!;
        var padded = PetoOdds.Estimate([.. one, (new(0, 30, 0), new(0, 25, 0)), (new(12, 12, 0), new(8, 8, 0)), (default, new(3, 9, 0))])!;
        Assert.Equal(alone, padded);
        Assert.Null(alone.Homogeneity);
        Assert.Null(PetoOdds.Estimate([(new(0, 30, 0), new(0, 25, 0))]));
    }

    private static (Count, Count)[] Strata(ReferenceTable.Row row) =>
        [.. row.Grid("tables").Select(cells => (new Count(cells[0], cells[0] + cells[1], 0), new Count(cells[2], cells[2] + cells[3], 0)))];
}
