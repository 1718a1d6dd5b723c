using System.Collections.Immutable;
using System.Text;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;

namespace Outcomes.Tests;

public sealed class SelectionTests
{
    private static readonly byte[] Salt = Encoding.UTF8.GetBytes("a salt of this test");

    private static readonly ImmutableArray<Flag> Flags =
    [
        new("three", Tier.Three, "true"), new("one", Tier.One, "true"), new("data", Tier.Data, "true"), new("clean", Tier.Learning, "true")
    ];

    // RFC 4231, test cases 1 and 2: key and data as printed, and the HMAC-SHA-256 of them.
    [Theory]
    [InlineData("0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b", "Hi There", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7")]
    [InlineData("4a656665", "what do ya want for nothing?", "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843")]
    public void The_code_is_HMAC_SHA_256_as_in_RFC_4231(string key, string data, string code) =>
        Assert.Equal(code, Convert.ToHexStringLower(CaseId.Code(Convert.FromHexString(key), Encoding.UTF8.GetBytes(data))));

    // RFC 4648, section 10: "foobar" is MZXW6YTBOI======; zero bytes fill the code up here.
    [Fact]
    public void A_case_id_is_the_first_base_32_digits_as_in_RFC_4648()
    {
        byte[] code = [.. "foobar"u8, 0, 0];
        Assert.Equal("MZXW6Y", CaseId.Of(code));
        Assert.Equal("MZXW6YTBO", CaseId.Of(code, 9));
    }

    [Fact]
    public void A_record_comes_once_at_its_highest_tier_with_every_flag()
    {
        var only = Assert.Single(Selection.Of([Record("r", 0, 1, 2)], Flags, Salt, "department"));
        Assert.Equal(CaseKind.One, only.Kind);
        Assert.Equal(["one", "three", "data"], only.Flags.Select(flag => flag.Id));
    }

    [Fact]
    public void A_record_of_which_only_the_data_are_doubtful_stands_apart_and_may_be_drawn()
    {
        var cases = Selection.Of([.. Enumerable.Range(0, 30).Select(i => Record($"r{i}", 2))], Flags, Salt, "department");
        Assert.Equal(2, cases.Count(each => each.Kind == CaseKind.Drawn));
        Assert.Equal(28, cases.Count(each => each.Kind == CaseKind.Data));
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    [InlineData(29, 1)]
    [InlineData(30, 2)]
    [InlineData(100, 5)]
    public void Five_percent_of_unflagged_records_are_drawn_and_at_least_one(int unflagged, int drawn)
    {
        Assert.Equal(drawn,
            Selection.Of([.. Enumerable.Range(0, unflagged).Select(i => Record($"r{i}"))], Flags, Salt, "department").Length);
    }

    [Fact]
    public void The_draw_does_not_depend_on_the_order_of_records_and_another_salt_draws_others()
    {
        JudgedRecord[] records = [.. Enumerable.Range(0, 200).Select(i => Record($"r{i}"))];
        var drawn = Ids(Selection.Of(records, Flags, Salt, "department"));
        Assert.Equal(drawn, Ids(Selection.Of([.. records.Reverse()], Flags, Salt, "department")));
        Assert.NotEqual(drawn, Ids(Selection.Of(records, Flags, [1, 2, 3], "department")));
    }

    [Fact]
    public void A_late_record_comes_by_its_flag_and_is_neither_drawn_nor_counted_for_the_draw()
    {
        JudgedRecord[] month = [.. Enumerable.Range(0, 29).Select(i => Record($"r{i}"))];
        var drawn = Ids(Selection.Of(month, Flags, Salt, "department"));
        var cases = Selection.Of(month, Flags, Salt, "department",
            [Record("flagged", 1), .. Enumerable.Range(0, 100).Select(i => Record($"late{i}"))]);
        Assert.Equal(["flagged", .. drawn], Ids(cases));
    }

    [Fact]
    public void Another_audience_sees_other_case_ids() =>
        Assert.NotEqual(CaseId.Of(CaseId.Code(Salt, "department", "r1")), CaseId.Of(CaseId.Code(Salt, "network", "r1")));

    private static string[] Ids(ImmutableArray<SelectedCase> cases) => [.. cases.Select(each => each.Record.RecordId)];

    private static JudgedRecord Record(string id, params int[] fired) =>
        new(0, 0, id, [.. fired], ImmutableDictionary<string, string>.Empty);
}
