using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class LadderTests
{
    [Theory]
    [InlineData("A-A-A+", null, null, null, null, "A", "")]
    [InlineData("A-B-C+", null, null, null, null, "C", "A>B B>C")]
    [InlineData("A-B+A+", null, null, null, null, "A", "A>B B>A")]
    [InlineData("A-C+A-C+A+", null, null, null, null, "A", "A>C C>A")]
    [InlineData("A-A-", null, null, null, null, "woken", "A>woken")]
    [InlineData("A-D+", null, null, null, null, "D", "A>D")]
    [InlineData("A-", "failed", "succeeded", null, null, "B", "A>B")]
    [InlineData(null, "failed", "failed", "not_used", "succeeded", "D", "A>B B>D")]
    [InlineData(null, "succeeded", "not_used", "succeeded", "not_used", "A", "A>C C>A")]
    [InlineData(null, "failed", "not_used", "not_used", "not_used", "woken", "A>woken")]
    [InlineData(null, "not_used", "succeeded", "not_used", "not_used", "B", "")]
    [InlineData(null, null, null, null, null, "C", "")]
    [InlineData(null, null, null, null, null, "woken", "")]
    [InlineData("A-?+", null, null, null, null, null, "")]
    public void A_walk_gives_its_steps(string? attempts, string? a, string? b, string? c, string? d, string? final, string steps)
    {
        var month = new Month(2026, 1);
        var ladder = PlanLadder.Of(month, month, [new PlanPath(attempts, a, b, c, d, final, 7)]);
        Assert.Equal(steps, string.Join(' ', ladder.Steps.Select(step => $"{step.From}>{step.To}")));
        Assert.All(ladder.Steps, step => Assert.Equal(7, step.Records));
        Assert.Equal(7, ladder.Records);
        Assert.Equal(7, ladder.FromAttempts + ladder.FromPlanFields + ladder.FromFinalPlan + ladder.Unknown);
        Assert.All(ladder.Plans, plan => Assert.True(plan.Succeeded <= plan.OutcomeKnown && plan.OutcomeKnown <= plan.Used
            && plan.Left <= plan.Used && plan.Started <= plan.Used));
    }

    [Fact]
    public void The_final_plan_alone_says_nothing_of_where_it_started()
    {
        var month = new Month(2026, 1);
        var plan = PlanLadder.Of(month, month, [new PlanPath(null, null, null, null, null, "B", 3)]).Plans[1];
        Assert.Equal(new PlanUse("B", 0, 3, 0, 3, 3), plan);
    }
}
