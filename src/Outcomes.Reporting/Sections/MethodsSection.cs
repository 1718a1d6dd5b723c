using Outcomes.Analysis;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>How the figures were made, and after whom.</summary>
internal static class MethodsSection
{
    public static void Write(Html html, Figures model)
    {
        html.Add($"""
            <section aria-labelledby="methods"><h2 id="methods">Methods</h2><dl class="methods">
            <div><dt>Intervals</dt><dd>95{Wording.Space}% score intervals (Wilson EB. Probable inference, the law of succession, and statistical inference.
            J Am Stat Assoc 1927;22:209–12). They hold the uncertainty of numbers, not of missing or wrong records. An interval with a star
            allows for months that vary: counts divided by the months’ dispersion, with Student’s t; for a level of a stratum, by the design effect
            at the correlation within months of all its levels ({MonthDispersion.Source}).</dd></div>
            <div><dt>None in n</dt><dd>Where nothing was met, the one-sided exact 95{Wording.Space}% upper bound is 1 − 0.05<sup>1/n</sup> (the upper end of a
            one-sided interval of Clopper CJ, Pearson ES. Biometrika 1934;26:404–13).</dd></div>
            <div><dt>Shares of starts</dt><dd>On the plan ladder: intervals of the four shares that hold together with at least about 95{Wording.Space}% (Goodman LA. On
            simultaneous confidence intervals for multinomial proportions. Technometrics 1965;7:247–54).</dd></div>
            <div><dt>Missing records</dt><dd>They lie outside n/N. The figure lies between the bounds whatever they hold; a record that a known part
            decides moves neither ({Proportion.MissingBoundsSource}).</dd></div>
            <div><dt>Run charts</dt><dd>Points are months, or calendar quarters where months have too few cases. The line they are compared with is the median
            of the baseline, fixed beforehand. Points on the median count for neither side. Tested by the longest run and the number of
            crossings ({LongestRunAndCrossings.LimitsSource}), which is noted and no verdict, and only with ten useful points and a median off 0 and 100{Wording.Space}%. A month without
            cases is a gap, never a zero.</dd></div>
            <div><dt>Verdict</dt><dd>Made once a measure from the monthly test, planned evaluations, yearly comparisons of rare events, case mix and
            recording, by a fixed table (docs/statistics/verdict.md). Nothing else in the report speaks of change.</dd></div>
            <div><dt>Rare events</dt><dd>Under 5{Wording.Space}% or five events a year: compared once a year, with 5{Wording.Space}% for all such measures together
            ({FisherExact.Source}).</dd></div>
            <div><dt>Missing records and a conclusion</dt><dd>How many of them, all against it, would take it away: a tipping-point analysis
            (Yan X, Lee S, Li N. J Biopharm Stat 2009;19:1085–98).</dd></div>
            <div><dt>Months not yet complete</dt><dd>Expected to hold under 90{Wording.Space}% of their records by the delays of entry of months that ended 6 to
            30 months ago: drawn hollow, and left out of tests until complete enough. Our own rule; its limits are judgement.</dd></div>
            <div><dt>Case mix</dt><dd>Logistic ridge regression (le Cessie S, van Houwelingen JC. Appl Stat 1992;41:191–201; from memory); observed over
            expected with the model’s own error (docs/statistics/case-mix.md).</dd></div>
            <div><dt>Monthly test</dt><dd>Decides for headline measures whether a level has changed, with a stated chance of a false signal.
            {MonthlyTest.Source}.</dd></div>
            <div><dt>Declared changes</dt><dd>Compared once, in the month fixed when they were declared. {VaryingDifference.Source}.</dd></div>
            <div><dt>Control charts</dt><dd>{AttributeCharts.ProportionSource}. Rates: {AttributeCharts.RateSource}. Wider limits: {AttributeCharts.LaneySource}.
            Drawn without a verdict.</dd></div>
            <div><dt>Looking often</dt><dd>Every chart that is looked at can look odd by chance, and each month is another look. The number of false
            statements that the whole report makes in a year is printed beside the verdicts.</dd></div>
            <div><dt>Definitions in force</dt><dd>SHA-256 <code>{model.DefinitionsHash}</code>; printed above and, with every count, in
            <code>tables/</code>.</dd></div>
            </dl></section>

            """);
    }
}
