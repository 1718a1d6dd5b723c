using System.Net;

namespace Outcomes.Tests.Explore;

/// <summary>
/// Conditions are read by the catalogue's language: nothing in them reaches a file, a network, another table or the program.
/// </summary>
public sealed class ConditionTests(ExploreProcess explore) : IClassFixture<ExploreProcess>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("read_text('/etc/passwd') = 'x'")]
    [InlineData("age_years in (select 1)")]
    [InlineData("exists (select * from read_csv('/etc/passwd'))")]
    [InlineData("age_years = (select count(*) from read_parquet('http://example.org/x.parquet'))")]
    [InlineData("age_years = (select max(age_years) from attempts)")]
    [InlineData("true; copy records to '/tmp/x.csv'")]
    [InlineData("true; attach 'x.db'")]
    [InlineData("true; install httpfs; load httpfs")]
    [InlineData("true) from records; drop table records; select (true")]
    [InlineData("true) union select (true")]
    [InlineData("getenv('HOME') = 'x'")]
    [InlineData("current_setting('memory_limit') = 'x'")]
    [InlineData("age_years = random()")]
    [InlineData("pragma_version() is not null")]
    [InlineData("cast(age_years as varchar) = '60'")]
    [InlineData("age_years::varchar = '60'")]
    [InlineData("location_type like '%'")]
    [InlineData("regexp_matches(record_id, '.*')")]
    [InlineData("age_years = $1")]
    [InlineData("age_years = ?")]
    [InlineData("[x for x in [1]] is not null")]
    [InlineData("row(1, 2) is not null")]
    [InlineData("{'a': 1} is not null")]
    [InlineData("system.main.records.age_years = 1")]
    [InlineData("\"row\" = 1")]
    [InlineData("line = 1")]
    [InlineData("age_years")]
    [InlineData("location_type = 'nowhere'")]
    [InlineData("age_years >= 60 and")]
    [InlineData("'")]
    [InlineData("/*")]
    [InlineData("\0")]
    public async Task A_condition_that_reaches_out_is_refused_in_a_sentence(string condition)
    {
        foreach (var key in new[] { "among", "versus" })
        {
            var response = await explore.Client.GetAsync($"/?measure=first_pass&{key}={Uri.EscapeDataString(condition)}", Stop);
            var body = await response.Content.ReadAsStringAsync(Stop);
            Assert.Equal(HttpStatusCode.BadRequest, response.StatusCode);
            Assert.Contains("<strong>No answer.</strong>", body, StringComparison.Ordinal);
            Assert.DoesNotContain("class=\"answer\"", body, StringComparison.Ordinal);
            Assert.DoesNotMatch(@"\.cs:line|   at Outcomes|DuckDB|Parser Error|Binder Error|Catalog Error|root:x", body);
        }
    }

    [Fact]
    public async Task A_bracket_or_a_comment_cannot_change_what_the_measure_asks()
    {
        var all = await explore.Get("/answer.csv?measure=first_pass");
        // Read alone: the brackets close, so this is "all or all", and stays within the measure.
        Assert.Equal(all,
            await explore.Get("/answer.csv?measure=first_pass&among=" + Uri.EscapeDataString("record_id is not null) or (true")));
        Assert.Equal(all, await explore.Get("/answer.csv?measure=first_pass&among=" + Uri.EscapeDataString("record_id is not null -- x")));
    }

    [Fact]
    public async Task A_condition_is_shown_as_text_and_never_as_markup()
    {
        var body = await (await explore.Client.GetAsync("/?measure=first_pass&among="
            + Uri.EscapeDataString("</textarea><script>alert(1)</script>"), Stop)).Content.ReadAsStringAsync(Stop);
        Assert.Contains("&lt;/textarea&gt;&lt;script&gt;", body, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>alert", body, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("measure=nothing", "no measure")]
    [InlineData("measure=first_pass&from=2026-13", "is a month")]
    [InlineData("measure=first_pass&from=2026-03&to=2025-01", "not among those of the records")]
    [InlineData("measure=first_pass&to=2031-01", "not among those of the records")]
    [InlineData("measure=first_pass&by=nothing", "no field or derived column")]
    [InlineData("measure=first_pass&by=device,location_type,urgency", "two fields at most")]
    [InlineData("measure=first_pass&points=-1", "percentage points")]
    [InlineData("measure=cardiac_arrest&by=operator_grade", "never set beside death")]
    [InlineData("measure=cardiac_arrest&among=operator_grade is not null", "never set beside death")]
    [InlineData("measure=first_pass&do=add&field=age_years&comparison=%3E%3D&value=old", "is a number")]
    [InlineData("measure=first_pass&do=add&field=location_type&comparison=%3D&value=nowhere", "its values are")]
    [InlineData("measure=first_pass&do=add", "choose a field")]
    [InlineData("measure=first_pass&do=rest", "give the first cohort a condition")]
    public async Task A_question_that_cannot_be_asked_says_why(string question, string why)
    {
        var response = await explore.Client.GetAsync("/?" + question, Stop);
        Assert.Equal(HttpStatusCode.BadRequest, response.StatusCode);
        Assert.Contains(why, await response.Content.ReadAsStringAsync(Stop), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_condition_is_added_and_removed_by_buttons_and_stands_as_text()
    {
        var added = await explore.Client.GetAsync("/?measure=first_pass&among=age_years%20%3E%3D%2060&do=add&field=location_type"
            + "&comparison=%3D&value=intensive%20CARE", Stop);
        Assert.Equal(HttpStatusCode.SeeOther, added.StatusCode);
        var address = added.Headers.Location!.OriginalString;
        Assert.Contains(Uri.EscapeDataString("age_years >= 60 and location_type = 'icu'"), address, StringComparison.Ordinal);
        var page = await explore.Get(address);
        Assert.Contains("Location: Intensive care <button", page, StringComparison.Ordinal);
        Assert.Contains("Age at least 60\u00a0years <button", page, StringComparison.Ordinal);
        Assert.Contains(">age_years &gt;= 60 and location_type = &#39;icu&#39;</textarea>", page, StringComparison.Ordinal);
        var removed = await explore.Client.GetAsync(address + "&drop=0", Stop);
        Assert.EndsWith("among=" + Uri.EscapeDataString("location_type = 'icu'"), removed.Headers.Location!.OriginalString,
            StringComparison.Ordinal);
    }
}
