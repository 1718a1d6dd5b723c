using Outcomes.Cli.Compute;

namespace Outcomes.Tests;

/// <summary>Ends of intervals for events of a few in a million or a thousand million, to the digits that <c>compute</c> prints.</summary>
/// <remarks>
/// Values made with mpmath 1.2.1 at 50 digits, by a program of its own: binomial tails summed term by term, the score equations solved by
/// bisection, Wilson's and Newcombe's formulas written out. Mirrored counts must give the mirrored interval.
/// </remarks>
public class RareEndTests
{
    [Theory]
    [InlineData("wilson", """{"met":3,"eligible":1000000000}""", 1.020270728876924e-9, 8.821188054011644e-9)]
    [InlineData("wilson_cc", """{"met":3,"eligible":1000000000}""", 7.747935199066614e-10, 9.56009010846341e-9)]
    [InlineData("clopper_pearson", """{"met":3,"eligible":1000000000}""", 6.186721233228958e-10, 8.767273044460697e-9)]
    [InlineData("mid_p", """{"met":3,"eligible":1000000000}""", 7.630962983470917e-10, 8.164469186188856e-9)]
    [InlineData("jeffreys", """{"met":3,"eligible":1000000000}""", 8.449345910378883e-10, 8.006382115271562e-9)]
    [InlineData("likelihood", """{"met":3,"eligible":1000000000}""", 7.460650370123075e-10, 7.779286347551105e-9)]
    [InlineData("wilson_cc", """{"met":1,"eligible":10000000}""", 5.220014578804189e-9, 6.495038030739614e-7)]
    [InlineData("difference_newcombe",
        """{"first":{"met":3,"eligible":1000000000},"second":{"met":1,"eligible":1000000000}}""",
        -3.067636478796655e-9, 7.879144680032691e-9)]
    [InlineData("difference_newcombe",
        """{"first":{"met":999999997,"eligible":1000000000},"second":{"met":999999999,"eligible":1000000000}}""",
        -7.879144680032691e-9, 3.067636478796655e-9)]
    [InlineData("difference_newcombe_cc",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", -3.928467318235872e-6, 8.628163466532295e-6)]
    [InlineData("difference_newcombe_cc",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""",
        -8.628163466532295e-6, 3.928467318235872e-6)]
    [InlineData("difference_miettinen_nurminen",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", -2.91040620460894e-6, 7.924825262171886e-6)]
    [InlineData("difference_miettinen_nurminen",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""",
        -7.924825262171886e-6, 2.91040620460894e-6)]
    [InlineData("difference_mee",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", -2.910404293533697e-6, 7.924823101437091e-6)]
    [InlineData("difference_mee",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""",
        -7.924823101437091e-6, 2.910404293533697e-6)]
    [InlineData("difference_agresti_caffo",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", -2.800898073049039e-6, 6.800890073065039e-6)]
    [InlineData("difference_agresti_caffo",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""",
        -6.800890073065039e-6, 2.800898073049039e-6)]
    [InlineData("difference_wald_cc",
        """{"first":{"met":3,"eligible":1000000000},"second":{"met":1,"eligible":1000000000}}""",
        -2.919927964180199e-9, 6.919927964180199e-9)]
    [InlineData("difference_wald_cc",
        """{"first":{"met":999999997,"eligible":1000000000},"second":{"met":999999999,"eligible":1000000000}}""",
        -6.919927964180199e-9, 2.919927964180199e-9)]
    [InlineData("difference_miettinen_nurminen",
        """{"first":{"met":999980,"eligible":1000000},"second":{"met":999997,"eligible":1000000}}""",
        -2.820263796253578e-5, -8.401492920366531e-6)]
    [InlineData("odds_ratio_score",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", 0.4298822087127044, 20.9360312614609)]
    [InlineData("odds_ratio_score",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""",
        0.04776454465086718, 2.326218623921495)]
    [InlineData("risk_ratio_score",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", 0.4298832862355179, 20.93593565093596)]
    [InlineData("risk_ratio_score",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""", 0.999992075170329, 1.000002910420169)]
    [InlineData("risk_ratio_score",
        """{"first":{"met":999980,"eligible":1000000},"second":{"met":999995,"eligible":1000000}}""",
        0.9999735898794861, 0.9999943311099567)]
    [InlineData("odds_ratio_exact",
        """{"first":{"met":3,"eligible":1000000},"second":{"met":1,"eligible":1000000}}""", 0.2408801272283029, 157.4925577714099)]
    [InlineData("odds_ratio_exact",
        """{"first":{"met":999997,"eligible":1000000},"second":{"met":999999,"eligible":1000000}}""",
        0.006349506377637439, 4.151442510042407)]
    public void Ends_are_right_to_eleven_digits_of_themselves(string name, string json, double lower, double upper)
    {
        var result = ComputeCatalogue.Run(name, json);
        var (low, high) = (result["lower"]!.GetValue<double>(), result["upper"]!.GetValue<double>());
        Assert.Equal(lower, low, 1e-11 * Math.Abs(lower));
        Assert.Equal(upper, high, 1e-11 * Math.Abs(upper));
    }
}
