namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>
/// Answers to the questions of a draft: three lines each, a file of the draft, a line in it (-), and what to put in its place (+).
/// </summary>
internal static class Answers
{
    public static void Give(Workspace workspace, string folder, string answers)
    {
        foreach (var chunk in File.ReadAllLines(workspace[answers]).Chunk(3))
        {
            var text = workspace.Read(folder, chunk[0]).Split('\n');
            Assert.Equal("- +", $"{chunk[1][0]} {chunk[2][0]}");
            var at = Array.IndexOf(text, chunk[1][1..]);
            Assert.True(at >= 0, $"{chunk[0]} has no line `{chunk[1][1..]}`:\n{string.Join('\n', text)}");
            text[at] = chunk[2][1..];
            workspace.Write(Path.Combine(folder, chunk[0]), string.Join('\n', text));
        }
    }
}
