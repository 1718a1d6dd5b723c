using Outcomes.CaseMix.UnusualRecords;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public class UnusualRecordsTests
{
    private const int Records = 600;

    [Fact]
    public void An_impossible_pair_is_found_by_name_although_each_value_is_usual()
    {
        var (height, weight, pressure) = People(21);
        // 152 cm and 108 kg: both occur in this department, together they do not.
        (height[100], weight[100]) = (152, 108);
        var found = UnusualRecordSearch.Find(Columns(height, weight, pressure), new());
        var record = Assert.Single(found, each => each.Record == 100);
        Assert.Equal([0, 1], new[] { record.Column, record.Other }.Order());
        Assert.False(record.ByItself);
        Assert.InRange(height[100], height.Order().ElementAt(3), height.Order().ElementAt(Records - 4));
        Assert.InRange(weight[100], weight.Order().ElementAt(3), weight.Order().ElementAt(Records - 4));
        Assert.InRange(found.Length - 1, 0, 3);
    }

    [Fact]
    public void A_value_that_no_other_column_foretells_is_found_by_itself()
    {
        var (height, weight, pressure) = People(22);
        pressure[7] = 290;
        var record = Assert.Single(UnusualRecordSearch.Find(Columns(height, weight, pressure), new()), each => each.Record == 7);
        Assert.Equal(2, record.Column);
        Assert.True(record.ByItself);
        Assert.NotEqual(record.Column, record.Other);
    }

    [Fact]
    public void At_most_one_in_two_hundred_records_without_an_error_is_found_over_many_departments()
    {
        var found = Enumerable.Range(0, 30).Sum(department =>
        {
            var (height, weight, pressure) = People(100 + (ulong)department);
            return UnusualRecordSearch.Find(Columns(height, weight, pressure), new()).Length;
        });
        // 30 × 600 records: 90 would be one in two hundred. None at all would say that the limits are out of reach.
        Assert.InRange(found, 1, 90);
    }

    [Fact]
    public void A_missing_value_is_neither_judged_nor_does_it_hide_the_others()
    {
        var (height, weight, pressure) = People(23);
        for (var i = 0; i < Records; i += 2)
            pressure[i] = double.NaN;
        (height[100], weight[100]) = (152, 108);
        pressure[101] = 290;
        var found = UnusualRecordSearch.Find(Columns(height, weight, pressure), new());
        Assert.Contains(found, each => each.Record == 100);
        Assert.Contains(found, each => each.Record == 101 && each.Column == 2);
        Assert.DoesNotContain(found, each => each.Record % 2 == 0 && (each.Column == 2 || each.Other == 2));
    }

    [Fact]
    public void Two_runs_find_the_same_with_the_same_scores()
    {
        var (height, weight, pressure) = People(24);
        for (var i = 0; i < Records; i += 3)
            weight[i] = double.NaN;
        (height[100], weight[100]) = (152, 108);
        var first = UnusualRecordSearch.Find(Columns(height, weight, pressure), new());
        Assert.NotEmpty(first);
        Assert.Equal(first, UnusualRecordSearch.Find(Columns(height, weight, pressure), new()));
    }

    [Fact]
    public void Too_few_records_are_not_judged()
    {
        var (height, weight, pressure) = People(25);
        weight[100] = 9;
        RecordColumn[] First(int records) =>
            [.. Columns(height, weight, pressure).Select(column => column with { Values = column.Values[..records] })];
        Assert.Empty(UnusualRecordSearch.Find(First(449), new()));
        Assert.NotEmpty(UnusualRecordSearch.Find(First(450), new()));
    }

    [Fact]
    public void A_column_without_spread_or_hardly_ever_known_is_not_used()
    {
        var (height, weight, pressure) = People(26);
        (height[100], weight[100]) = (152, 108);
        RecordColumn[] more =
        [
            .. Columns(height, weight, pressure), new("constant", [.. height.Select((_, i) => i == 100 ? 9.0 : 5)]),
            new("rare", [.. height.Select((_, i) => i < 50 ? i : double.NaN)])
        ];
        var record = Assert.Single(UnusualRecordSearch.Find(more, new()), each => each.Record == 100);
        Assert.True(record.Column < 2 && record.Other < 2);
        Assert.Empty(UnusualRecordSearch.Find([more[3], more[4]], new()));
        Assert.Empty(UnusualRecordSearch.Find([], new()));
    }

    [Fact]
    public void The_spread_of_normal_values_is_their_standard_deviation_and_wrong_ones_hardly_move_it()
    {
        var draw = new NormalDraws(SplitMix64.Uniform(27));
        double[] values = [.. Enumerable.Range(0, 20_000).Select(_ => 50 + (3 * draw.Next()))];
        var clean = RobustScale.Of(values, 10)!.Value;
        // 1.4826 = 1 / Φ⁻¹(0.75): Hampel 1974, the median deviation as an estimate of the standard deviation.
        Assert.Equal(50, clean.Centre, 0.1);
        Assert.Equal(3, clean.Spread, 0.08);
        var wrong = RobustScale.Of(values.Select((value, i) => i % 20 == 0 ? 1_000 : value), 10)!.Value;
        Assert.Equal(3, wrong.Spread, 0.3);
    }

    [Fact]
    public void Quantiles_are_those_of_the_published_definition()
    {
        // Hyndman and Fan 1996, definition 7, which R's quantile() uses: of 1, 2, 3, 4 the 0.3 quantile lies at 1 + 0.3 · 3 = 1.9, by hand.
        Assert.Equal(1.9, RobustScale.Quantile([1, 2, 3, 4], 0.3), 12);
        Assert.Equal(4, RobustScale.Quantile([1, 2, 3, 4], 1), 12);
    }

    [Fact]
    public void An_exponential_tail_is_carried_on_to_its_own_quantile()
    {
        // −ln(share) is the exact quantile of the exponential distribution.
        var uniform = SplitMix64.Uniform(28);
        double[] excess = [.. Enumerable.Range(0, 50_000).Select(_ => -Math.Log(1 - uniform()))];
        Assert.Equal(-Math.Log(1e-4), TailLimits.Of(excess, 1e-4, 10, new()).Upper, 0.5);
    }

    [Fact]
    public void Principal_directions_are_those_that_the_covariance_was_built_from()
    {
        // Two independent normal values of spread 3 and 1, turned by 30 degrees: the first direction is (cos 30°, sin 30°)
        // but for its sign.
        var draw = new NormalDraws(SplitMix64.Uniform(29));
        var (cos, sin) = (Math.Cos(Math.PI / 6), Math.Sin(Math.PI / 6));
        double[][] rows = [.. Enumerable.Range(0, 5_000).Select(_ => (Long: 3 * draw.Next(), Short: draw.Next()))
            .Select(at => new[] { (cos * at.Long) - (sin * at.Short), (sin * at.Long) + (cos * at.Short) })];
        var directions = PrincipalDirections.Fit(rows, 2, 1);
        Assert.Equal(1, Math.Abs((directions[0][0] * cos) + (directions[0][1] * sin)), 0.001);
        Assert.Equal(0, (directions[0][0] * directions[1][0]) + (directions[0][1] * directions[1][1]), 0.001);
    }

    // Weight follows height; the pressure follows nothing.
    private static (double[] Height, double[] Weight, double[] Pressure) People(ulong seed)
    {
        var draw = new NormalDraws(SplitMix64.Uniform(seed));
        double[] height = [.. Enumerable.Range(0, Records).Select(_ => Math.Round(170 + (11 * draw.Next())))];
        return (height, [.. height.Select(each => Math.Round(25 * each * each / 10_000 * Math.Exp(0.12 * draw.Next())))],
            [.. height.Select(_ => Math.Round(125 + (20 * draw.Next())))]);
    }

    private static RecordColumn[] Columns(double[] height, double[] weight, double[] pressure) =>
        [new("height", [.. height], true), new("weight", [.. weight], true), new("pressure", [.. pressure])];
}
