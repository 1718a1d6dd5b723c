using Outcomes.Statistics;

namespace Outcomes.Tests;

public class LongestRunAndCrossingsTests
{
    private const string Limits = "run_limits.json";
    private const string JointFile = "joint.json";

    public static TheoryData<string> Published => Check.Ids(Limits);

    public static TheoryData<string> PublishedJoint => Check.Ids(JointFile);

    [Theory]
    [MemberData(nameof(Published))]
    public void Limits_and_chances_equal_the_published_rule_and_its_exact_chances(string id)
    {
        var check = Check.Find(Limits, id);
        var n = (int)check.Integer("useful");
        var (run, crossings) = (LongestRunAndCrossings.RunLimit(n), LongestRunAndCrossings.CrossingsLimit(n));
        check.Holds(
            ("run_limit", run),
            ("crossings_limit", crossings),
            ("longer_run", LongestRunAndCrossings.Chance(n, run, 0)),
            ("fewer_crossings", LongestRunAndCrossings.Chance(n, n, crossings)),
            ("either", LongestRunAndCrossings.Chance(n, run, crossings)),
            ("run_of_6", LongestRunAndCrossings.Chance(n, 5, 0)),
            ("run_of_7", LongestRunAndCrossings.Chance(n, 6, 0)),
            ("run_of_8", LongestRunAndCrossings.Chance(n, 7, 0)));
    }

    [Theory]
    [MemberData(nameof(PublishedJoint))]
    public void Joint_distribution_equals_the_published_table_for_14_points(string id)
    {
        var check = Check.Find(JointFile, id);
        var crossings = (int)check.Integer("crossings");
        var joint = LongestRunAndCrossings.Joint(14);
        var expected = check.Expected["times_8192"]!.AsArray().Select(node => node!.GetValue<double>());
        Assert.Equal(expected, Enumerable.Range(1, 14).Select(longest => joint[crossings, longest] * 8192));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7)]
    [InlineData(13)]
    public void Joint_distribution_equals_the_count_of_every_sequence(int n)
    {
        var counted = new double[n, n + 1];
        for (var sequence = 0; sequence < 1 << n; sequence++)
        {
            var sides = Enumerable.Range(0, n).Select(i => (sequence >> i) & 1).ToArray();
            var (longest, crossings) = BruteForce.LongestAndCrossings(sides);
            counted[crossings, longest] += 1.0 / (1 << n);
        }
        Assert.Equal(counted, LongestRunAndCrossings.Joint(n));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(36)]
    [InlineData(120)]
    public void Chance_is_the_sum_of_the_joint_distribution_beyond_either_limit(int n)
    {
        var joint = LongestRunAndCrossings.Joint(n);
        var (run, limit) = (LongestRunAndCrossings.RunLimit(n), LongestRunAndCrossings.CrossingsLimit(n));
        double all = 0, beyond = 0;
        for (var crossings = 0; crossings < n; crossings++)
            for (var longest = 1; longest <= n; longest++)
            {
                all += joint[crossings, longest];
                if (longest > run || crossings < limit)
                    beyond += joint[crossings, longest];
            }
        Assert.Equal(1, all, 1e-12);
        Assert.Equal(beyond, LongestRunAndCrossings.Chance(n, run, limit), 1e-12);
    }

    [Fact]
    public void The_edges_are_0_and_1()
    {
        Assert.Equal(0, LongestRunAndCrossings.Chance(0, 0, 0));
        Assert.Equal(0, LongestRunAndCrossings.Chance(1, 3, 0));
        Assert.Equal(1, LongestRunAndCrossings.Chance(5, 0, 0));
        Assert.Equal(1, LongestRunAndCrossings.Chance(5, 5, 5));
        Assert.Equal((0, 0), (LongestRunAndCrossings.RunLimit(0), LongestRunAndCrossings.CrossingsLimit(0)));
        Assert.Equal((3, 0), (LongestRunAndCrossings.RunLimit(1), LongestRunAndCrossings.CrossingsLimit(1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => LongestRunAndCrossings.Chance(-1, 3, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => LongestRunAndCrossings.Joint(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => LongestRunAndCrossings.Joint(201));
    }
}
