using CsCheck;
using Outcomes.CaseMix;

namespace Outcomes.Tests;

/// <summary>
/// Subarachnoid haemorrhage, 113 patients (aSAH of R's pROC): Robin X et al. BMC Bioinformatics 2011;12:77; the printed numbers are from
/// memory and agree with pROC, whose digits stand in asah.json.
/// </summary>
public class DiscriminationTests
{
    private static readonly Dictionary<string, double[]> Table = Data.Columns("asah.csv");
    private static readonly bool[] Poor = Data.Yes("asah.csv", "outcome");

    [Theory]
    [InlineData("s100b", 0.7314, 0.6301, 0.8326)]
    [InlineData("wfns", 0.8237, 0.7485, 0.8988)]
    [InlineData("ndka", 0.6120, 0.5012, 0.7227)]
    public void Areas_of_the_published_markers_have_the_published_intervals(string marker, double value, double lower, double upper)
    {
        var (area, r) = (Discrimination.Auc(Table[marker], Poor), Data.Json("asah.json").GetProperty(marker));
        Data.Near([value, lower, upper], [area.Value, area.Interval.Lower, area.Interval.Upper], 5.01e-5, marker);
        Data.Near([r.Number("auc"), r.Number("variance"), .. r.Numbers("ci")],
            [area.Value, area.Variance, area.Interval.Lower, area.Interval.Upper], 1e-12, marker);
    }

    [Fact]
    public void Random_scores_with_ties_agree_with_pROC()
    {
        foreach (var (each, i) in Data.Json("random.json").EnumerateArray().Select((each, i) => (each, i)))
        {
            var area = Discrimination.Auc(each.Numbers("score"), LogisticTests.Problem(each).Met);
            Data.Near([each.Number("auc"), each.Number("auc_var")], [area.Value, area.Variance], 1e-12, $"problem {i}");
        }
    }

    [Fact]
    public void The_area_is_the_share_of_pairs_in_order_and_turns_round_with_the_scores()
    {
        Gen.Select(Gen.Int[0, 6].Array[8, 30], Gen.Bool.Array[30]).Sample((raw, all) =>
        {
            double[] scores = [.. raw.Select(value => (double)value)];
            bool[] met = [.. all.Take(raw.Length)];
            if (Math.Min(met.Count(value => value), met.Count(value => !value)) < 2)
                return;
            double pairs = 0, right = 0;
            for (var i = 0; i < met.Length; i++)
                for (var j = 0; j < met.Length; j++)
                    if (met[i] && !met[j])
                        (pairs, right) = (pairs + 1, right + (scores[i] > scores[j] ? 1 : scores[i] == scores[j] ? 0.5 : 0));
            var area = Discrimination.Auc(scores, met);
            Assert.Equal(right / pairs, area.Value, 12);
            Assert.Equal(1 - area.Value, Discrimination.Auc([.. scores.Select(value => -value)], met).Value, 12);
            Assert.Equal(area.Variance, Discrimination.Auc([.. scores.Select(value => Math.Exp(value))], met).Variance, 12);
        });
    }

    [Fact]
    public void One_outcome_of_a_kind_is_too_few() =>
        Assert.Throws<ArgumentException>(() => Discrimination.Auc([1, 2, 3], [true, false, false]));
}
