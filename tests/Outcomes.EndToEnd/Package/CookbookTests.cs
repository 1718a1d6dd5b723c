using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>Every recipe of docs/research/cookbook.md gives the answer that stands below it, on the demonstration's department.</summary>
public sealed partial class CookbookTests(CookbookTests.Department department) : IClassFixture<CookbookTests.Department>
{
    /// <summary>One store for all recipes: reading the records again for each would take longer than to answer.</summary>
    public sealed class Department : IDisposable
    {
        private readonly Workspace _workspace = Workspace.WithShippedPipelines();

        internal Task<ToolResult> Query(string sql) =>
            ToolProcess.Run(_workspace.Folder, "query", "pipelines/monthly.yaml", sql, "--format", "csv");

        public void Dispose() => _workspace.Dispose();
    }

    private static readonly string Page = File.ReadAllText(Repository.InRoot("docs", "research", "cookbook.md")).ReplaceLineEndings("\n");

    private static readonly Match[] All = [.. Recipe().Matches(Page).Cast<Match>()];

    public static TheoryData<string> Recipes => [.. All.Select(recipe => recipe.Groups["title"].Value)];

    [Theory]
    [MemberData(nameof(Recipes))]
    public async Task A_recipe_gives_the_answer_below_it(string title)
    {
        var recipe = All.Single(each => each.Groups["title"].Value == title);
        var result = await department.Query(recipe.Groups["sql"].Value);
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Equal(recipe.Groups["csv"].Value, result.Output.ReplaceLineEndings("\n"));
        Assert.True(result.Output.Split('\n').Length > 2, "an answer without a row shows nothing");
    }

    [Fact]
    public void There_are_fifteen_recipes_in_order_each_with_a_word_of_warning()
    {
        Assert.Equal(Enumerable.Range(1, 15).Select(i => $"{i}"), All.Select(recipe => recipe.Groups["number"].Value));
        Assert.Equal(15, Page.Split("```sql\n").Length - 1);
        Assert.All(All, recipe => Assert.True(recipe.Groups["why"].Value.Length > 60, recipe.Groups["title"].Value));
    }

    [GeneratedRegex(@"^## (?<number>\d+)\. (?<title>[^\n]+)\n\n(?<why>(?!```).*?)\n\n```sql\n(?<sql>.*?)\n```\n\n```csv\n(?<csv>.*?)```$",
        RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Recipe();
}
