using CsCheck;
using Outcomes.CaseMix;

namespace Outcomes.Tests;

/// <summary>Separation, and the penalised likelihood that lives with it.</summary>
public class FirthTests
{
    private static readonly double[][] Rows =
        Data.Rows("endometrial.csv", (table, i) => table["NV"][i], (table, i) => table["PI"][i], (table, i) => table["EH"][i]);
    private static readonly bool[] High = Data.Yes("endometrial.csv", "HG");

    /// <summary>
    /// Endometrial cancer, 79 women: Heinze G, Schemper M. Stat Med 2002;21:2409-2419, numbers from memory, agreeing with R's brglm2.
    /// </summary>
    [Fact]
    public void The_endometrial_data_are_quasi_separated_and_give_the_published_coefficients()
    {
        var fit = Logistic.Fit(Rows, High, profile: true);
        Assert.Equal(Separation.Quasi, fit.Separation);
        Assert.True(fit.Penalised);
        Data.Near([3.775, 2.929, -0.035, -2.604], fit.Coefficients.Select(each => each.Value), 5.01e-4, "coefficient");
        Data.Near([1.489, 1.551, 0.04, 0.776], fit.Coefficients.Select(each => each.StandardError), 5.01e-4, "standard error");
        var r = Data.Json("endometrial.json").GetProperty("firth");
        Data.Near(r.Numbers("coef"), fit.Coefficients.Select(each => each.Value), 1e-7, "coefficient of brglm2");
        Data.Near(r.Numbers("se"), fit.Coefficients.Select(each => each.StandardError), 1e-7, "standard error of brglm2");
        // The penalised profile interval of NV as the paper prints it, 0.61 to 7.85: from memory.
        Data.Near([0.61, 7.85], [fit.Coefficients[1].Profile!.Value.Lower, fit.Coefficients[1].Profile!.Value.Upper],
            0.005, "profile of NV");
    }

    [Fact]
    public void Random_problems_agree_with_the_bias_reduced_fits_of_R()
    {
        foreach (var (each, i) in Data.Json("random.json").EnumerateArray().Select((each, i) => (each, i)))
        {
            var (rows, met) = LogisticTests.Problem(each);
            var (fit, r) = (Logistic.Fit(rows, met, penalised: true), each.GetProperty("firth"));
            Data.Near(r.Numbers("coef"), fit.Coefficients.Select(value => value.Value), 1e-6, $"problem {i}: coefficient");
            Data.Near(r.Numbers("se"), fit.Coefficients.Select(value => value.StandardError), 1e-6, $"problem {i}: standard error");
        }
    }

    [Fact]
    public void Without_covariates_the_penalty_adds_half_a_record_to_either_side()
    {
        // Firth 1993, section 3: the intercept alone is ln((k + 1/2) / (n − k + 1/2)), also with none that met.
        foreach (var (met, records) in new[] { (3, 10), (0, 7), (5, 5) })
        {
            var fit = Logistic.Fit([.. Enumerable.Repeat(Array.Empty<double>(), records)],
                [.. Enumerable.Range(0, records).Select(i => i < met)], penalised: true);
            Assert.Equal(Math.Log((met + 0.5) / (records - met + 0.5)), fit.Coefficients[0].Value, 8);
        }
    }

    [Fact]
    public void Separation_is_found_exactly_when_a_line_parts_the_outcomes()
    {
        var (complete, quasi, none) = (0, 0, 0);
        Gen.Select(Gen.Int[0, 3].Array[2].Array[5, 12], Gen.Bool.Array[12], Gen.Int[0, 2]).Sample((points, outcomes, kind) =>
        {
            double[][] rows = [.. points.Select(point => point.Select(value => (double)value).ToArray())];
            // A third of the problems are parted by a line, and a third nearly so.
            bool[] met = [.. points.Select((point, i) => kind switch
            {
                0 => outcomes[i],
                1 => point[0] + point[1] > 2,
                _ => point[0] + (2 * point[1]) > 3 || (point[0] + (2 * point[1]) == 3 && outcomes[i])
            })];
            if (Logistic.Collinear(rows).Length > 0)
                return;
            var expected = ByTrial(rows, met);
            _ = expected switch { Separation.None => none++, Separation.Quasi => quasi++, _ => complete++ };
            Assert.Equal(expected, Logistic.Fit(rows, met).Separation);
        }, iter: 1_000, threads: 1, seed: "0000000000001");
        Assert.True(none > 50 && quasi > 50 && complete > 50, $"{none} {quasi} {complete}");
    }

    [Fact]
    public void A_line_that_parts_all_records_is_found_where_the_last_step_is_rounding()
    {
        double[][] rows = [[1, 2], [3, 1], [2, 1], [1, 0], [3, 1], [2, 1], [3, 2]];
        Assert.Equal(Separation.Complete, Logistic.Fit(rows, [true, true, true, false, true, true, true]).Separation);
    }

    // In the plane every direction that matters is normal to a line through two points, or a sum of two such.
    private static Separation ByTrial(double[][] rows, bool[] met)
    {
        var lines = new List<double[]> { new double[] { 1, 0, 0 }, new double[] { -1, 0, 0 } };
        foreach (var a in rows)
            foreach (var b in rows)
                if (a[0] != b[0] || a[1] != b[1])
                    lines.Add([((b[0] - a[0]) * a[1]) - ((b[1] - a[1]) * a[0]), b[1] - a[1], -(b[0] - a[0])]);
        var found = Separation.None;
        double[] sum = [0, 0, 0];
        foreach (var line in lines)
            if (Margins(line).All(margin => margin >= 0) && Margins(line).Any(margin => margin > 0))
            {
                found = Separation.Quasi;
                sum = [sum[0] + line[0], sum[1] + line[1], sum[2] + line[2]];
            }

        // The sum of all that part the outcomes has each record on its side that any of them has.
        return found == Separation.Quasi && Margins(sum).All(margin => margin > 0) ? Separation.Complete : found;

        IEnumerable<double> Margins(double[] d) => rows.Select((row, i) => (met[i] ? 1 : -1) * (d[0] + (row[0] * d[1]) + (row[1] * d[2])));
    }
}
