<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="en" sourcelanguage="en">
<context>
    <name>Among</name>
    <message numerus="yes">
        <source>Other batches of the species: {usual}, {count} eggs in %n batch(es).</source>
        <translation>
            <numerusform>Other batches of the species: {usual}, {count} eggs in %n batch.</numerusform>
            <numerusform>Other batches of the species: {usual}, {count} eggs in %n batches.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>BatchList</name>
    <message numerus="yes">
        <source>%n planned</source>
        <translation>
            <numerusform>%n planned</numerusform>
            <numerusform>%n planned</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n running</source>
        <translation>
            <numerusform>%n running</numerusform>
            <numerusform>%n running</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n done</source>
        <translation>
            <numerusform>%n done</numerusform>
            <numerusform>%n done</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n open</source>
        <translation>
            <numerusform>%n open</numerusform>
            <numerusform>%n open</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s)</source>
        <translation>
            <numerusform>%n egg</numerusform>
            <numerusform>%n eggs</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Batches</name>
    <message numerus="yes">
        <source>%n {species} egg(s) from {pens} in {machine}</source>
        <translation>
            <numerusform>%n {species} egg from {pens} in {machine}</numerusform>
            <numerusform>%n {species} eggs from {pens} in {machine}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n {species} egg(s) in {machine}</source>
        <translation>
            <numerusform>%n {species} egg in {machine}</numerusform>
            <numerusform>%n {species} eggs in {machine}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n day(s) past the hatch, day {day}</source>
        <translation>
            <numerusform>%n day past the hatch, day {day}</numerusform>
            <numerusform>%n days past the hatch, day {day}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>CandlingDialog</name>
    <message numerus="yes">
        <source>%n egg(s) alive. Now press what the chosen ones were.</source>
        <translation>
            <numerusform>%n egg alive. Now press what the chosen ones were.</numerusform>
            <numerusform>%n eggs alive. Now press what the chosen ones were.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>CandlingRoom</name>
    <message numerus="yes">
        <source>The candling goes on: %n egg(s) are done.</source>
        <translation>
            <numerusform>The candling goes on: %n egg are done.</numerusform>
            <numerusform>The candling goes on: %n eggs are done.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Carry</name>
    <message numerus="yes">
        <source>%n egg(s) off the tray</source>
        <translation>
            <numerusform>%n egg off the tray</numerusform>
            <numerusform>%n eggs off the tray</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>no room for %n egg(s) from {place} on</source>
        <translation>
            <numerusform>no room for %n egg from {place} on</numerusform>
            <numerusform>no room for %n eggs from {place} on</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) to {place}</source>
        <translation>
            <numerusform>%n egg to {place}</numerusform>
            <numerusform>%n eggs to {place}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Causes</name>
    <message numerus="yes">
        <source>%n more below.</source>
        <translation>
            <numerusform>%n more below.</numerusform>
            <numerusform>%n more below.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{count} fertile eggs were lost. Chance alone does that or worse {odds} times, going by %n other batch(es).</source>
        <translation>
            <numerusform>{count} fertile eggs were lost. Chance alone does that or worse {odds} times, going by %n other batch.</numerusform>
            <numerusform>{count} fertile eggs were lost. Chance alone does that or worse {odds} times, going by %n other batches.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Of %n egg(s) the end is not known: open what does not hatch, and causes can be weighed.</source>
        <translation>
            <numerusform>Of %n egg the end is not known: open what does not hatch, and causes can be weighed.</numerusform>
            <numerusform>Of %n eggs the end is not known: open what does not hatch, and causes can be weighed.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Show %n cause(s) more that nothing speaks for</source>
        <translation>
            <numerusform>Show %n cause more that nothing speaks for</numerusform>
            <numerusform>Show %n causes more that nothing speaks for</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Weighed %n egg(s): {loss} lost by lockdown</source>
        <translation>
            <numerusform>Weighed %n egg: {loss} lost by lockdown</numerusform>
            <numerusform>Weighed %n eggs: {loss} lost by lockdown</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Egg {number}: %n day(s) old when set</source>
        <translation>
            <numerusform>Egg {number}: %n day old when set</numerusform>
            <numerusform>Egg {number}: %n days old when set</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Chart</name>
    <message numerus="yes">
        <source>{phase}, turned %n time(s) a day</source>
        <translation>
            <numerusform>{phase}, turned %n time a day</numerusform>
            <numerusform>{phase}, turned %n times a day</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n gap(s), the longest of {time}.</source>
        <translation>
            <numerusform>%n gap, the longest of {time}.</numerusform>
            <numerusform>%n gaps, the longest of {time}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>thin: %n egg(s); thick: their mean</source>
        <translation>
            <numerusform>thin: %n egg; thick: their mean</numerusform>
            <numerusform>thin: %n eggs; thick: their mean</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{date}, day {day}: {value} % lost, mean of %n egg(s)</source>
        <translation>
            <numerusform>{date}, day {day}: {value} % lost, mean of %n egg</numerusform>
            <numerusform>{date}, day {day}: {value} % lost, mean of %n eggs</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ChartKeeping</name>
    <message numerus="yes">
        <source>%Ln reading(s) written to {file}</source>
        <translation>
            <numerusform>%Ln reading written to {file}</numerusform>
            <numerusform>%Ln readings written to {file}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) written to {file}, as the probe showed them</source>
        <translation>
            <numerusform>%Ln reading written to {file}, as the probe showed them</numerusform>
            <numerusform>%Ln readings written to {file}, as the probe showed them</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>CheckDialog</name>
    <message numerus="yes">
        <source>%n problem(s) found.</source>
        <translation>
            <numerusform>%n problem found.</numerusform>
            <numerusform>%n problems found.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>CloseBatchDialog</name>
    <message numerus="yes">
        <source>%n egg(s) without an end: what did not hatch and is not opened stays “not known”.</source>
        <translation>
            <numerusform>%n egg without an end: what did not hatch and is not opened stays “not known”.</numerusform>
            <numerusform>%n eggs without an end: what did not hatch and is not opened stays “not known”.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n clear egg(s) not opened: only opening tells infertile from early dead.</source>
        <translation>
            <numerusform>%n clear egg not opened: only opening tells infertile from early dead.</numerusform>
            <numerusform>%n clear eggs not opened: only opening tells infertile from early dead.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ComparisonTable</name>
    <message numerus="yes">
        <source>%n batch(es)</source>
        <translation>
            <numerusform>%n batch</numerusform>
            <numerusform>%n batches</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) set</source>
        <translation>
            <numerusform>%n egg set</numerusform>
            <numerusform>%n eggs set</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln batch(es); 19 of 20 lie in the band by chance. Point at one, or go through them with the arrow keys.</source>
        <translation>
            <numerusform>%Ln batch; 19 of 20 lie in the band by chance. Point at one, or go through them with the arrow keys.</numerusform>
            <numerusform>%Ln batches; 19 of 20 lie in the band by chance. Point at one, or go through them with the arrow keys.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Duties</name>
    <message numerus="yes">
        <source>Turn %n time(s), batch {label}</source>
        <translation>
            <numerusform>Turn %n time, batch {label}</numerusform>
            <numerusform>Turn %n times, batch {label}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>EggNoteDialog</name>
    <message numerus="yes">
        <source>%n egg(s)</source>
        <translation>
            <numerusform>%n egg</numerusform>
            <numerusform>%n eggs</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>EggRoundDialog</name>
    <message numerus="yes">
        <source>%n egg(s) chosen</source>
        <translation>
            <numerusform>%n egg chosen</numerusform>
            <numerusform>%n eggs chosen</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>EggSteps</name>
    <message numerus="yes">
        <source>%n egg(s) taken off the tray</source>
        <translation>
            <numerusform>%n egg taken off the tray</numerusform>
            <numerusform>%n eggs taken off the tray</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) moved</source>
        <translation>
            <numerusform>%n egg moved</numerusform>
            <numerusform>%n eggs moved</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) marked for weighing</source>
        <translation>
            <numerusform>%n egg marked for weighing</numerusform>
            <numerusform>%n eggs marked for weighing</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) no longer marked for weighing</source>
        <translation>
            <numerusform>%n egg no longer marked for weighing</numerusform>
            <numerusform>%n eggs no longer marked for weighing</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) changed: {fields}</source>
        <translation>
            <numerusform>%n egg changed: {fields}</numerusform>
            <numerusform>%n eggs changed: {fields}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) weighed</source>
        <translation>
            <numerusform>%n egg weighed</numerusform>
            <numerusform>%n eggs weighed</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>note on %n egg(s)</source>
        <translation>
            <numerusform>note on %n egg</numerusform>
            <numerusform>note on %n eggs</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>EggStory</name>
    <message numerus="yes">
        <source>%n day(s) old when set</source>
        <translation>
            <numerusform>%n day old when set</numerusform>
            <numerusform>%n days old when set</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Evidence</name>
    <message numerus="yes">
        <source>Lid open %n time(s) in lockdown, {time} in all.</source>
        <translation>
            <numerusform>Lid open %n time in lockdown, {time} in all.</numerusform>
            <numerusform>Lid open %n times in lockdown, {time} in all.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{pen} eggs hatch {rate} of fertile against {other} of other pens, over %n other batch(es).</source>
        <translation>
            <numerusform>{pen} eggs hatch {rate} of fertile against {other} of other pens, over %n other batch.</numerusform>
            <numerusform>{pen} eggs hatch {rate} of fertile against {other} of other pens, over %n other batches.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{pen} eggs are {rate} fertile against {other} of other pens, over %n other batch(es).</source>
        <translation>
            <numerusform>{pen} eggs are {rate} fertile against {other} of other pens, over %n other batch.</numerusform>
            <numerusform>{pen} eggs are {rate} fertile against {other} of other pens, over %n other batches.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Turned %n time(s) a day by plan.</source>
        <translation>
            <numerusform>Turned %n time a day by plan.</numerusform>
            <numerusform>Turned %n times a day by plan.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Oldest eggs %n day(s) old when set.</source>
        <translation>
            <numerusform>Oldest eggs %n day old when set.</numerusform>
            <numerusform>Oldest eggs %n days old when set.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Explanations</name>
    <message numerus="yes">
        <source>%n egg(s) with records that contradict each other.</source>
        <translation>
            <numerusform>%n egg with records that contradict each other.</numerusform>
            <numerusform>%n eggs with records that contradict each other.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Guide</name>
    <message numerus="yes">
        <source>%n channel(s), vent {opening}</source>
        <translation>
            <numerusform>%n channel, vent {opening}</numerusform>
            <numerusform>%n channels, vent {opening}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Keep %n channel(s) and the vent {vent}</source>
        <translation>
            <numerusform>Keep %n channel and the vent {vent}</numerusform>
            <numerusform>Keep %n channels and the vent {vent}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Fill %n more channel(s)</source>
        <translation>
            <numerusform>Fill %n more channel</numerusform>
            <numerusform>Fill %n more channels</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Fill %n more channel(s) and open the vent fully</source>
        <translation>
            <numerusform>Fill %n more channel and open the vent fully</numerusform>
            <numerusform>Fill %n more channels and open the vent fully</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Fill %n more channel(s) and shut the vent</source>
        <translation>
            <numerusform>Fill %n more channel and shut the vent</numerusform>
            <numerusform>Fill %n more channels and shut the vent</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Fill %n more channel(s) and open the vent to {opening}</source>
        <translation>
            <numerusform>Fill %n more channel and open the vent to {opening}</numerusform>
            <numerusform>Fill %n more channels and open the vent to {opening}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Fill %n more channel(s) and close the vent to {opening}</source>
        <translation>
            <numerusform>Fill %n more channel and close the vent to {opening}</numerusform>
            <numerusform>Fill %n more channels and close the vent to {opening}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Take out %n channel(s)</source>
        <translation>
            <numerusform>Take out %n channel</numerusform>
            <numerusform>Take out %n channels</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Take out %n channel(s) and open the vent fully</source>
        <translation>
            <numerusform>Take out %n channel and open the vent fully</numerusform>
            <numerusform>Take out %n channels and open the vent fully</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Take out %n channel(s) and shut the vent</source>
        <translation>
            <numerusform>Take out %n channel and shut the vent</numerusform>
            <numerusform>Take out %n channels and shut the vent</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Take out %n channel(s) and open the vent to {opening}</source>
        <translation>
            <numerusform>Take out %n channel and open the vent to {opening}</numerusform>
            <numerusform>Take out %n channels and open the vent to {opening}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Take out %n channel(s) and close the vent to {opening}</source>
        <translation>
            <numerusform>Take out %n channel and close the vent to {opening}</numerusform>
            <numerusform>Take out %n channels and close the vent to {opening}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Try %n channel(s) and the vent {vent}</source>
        <translation>
            <numerusform>Try %n channel and the vent {vent}</numerusform>
            <numerusform>Try %n channels and the vent {vent}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n channel(s)</source>
        <translation>
            <numerusform>%n channel</numerusform>
            <numerusform>%n channels</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n filling(s) of more channels than it has ({channels}) left out: correct the journal, or how many channels it has.</source>
        <translation>
            <numerusform>%n filling of more channels than it has ({channels}) left out: correct the journal, or how many channels it has.</numerusform>
            <numerusform>%n fillings of more channels than it has ({channels}) left out: correct the journal, or how many channels it has.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>From %n stretch(es) of its own history in which water and vent stood still, {hours} h in all.</source>
        <translation>
            <numerusform>From %n stretch of its own history in which water and vent stood still, {hours} h in all.</numerusform>
            <numerusform>From %n stretches of its own history in which water and vent stood still, {hours} h in all.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>When %n filled channel(s) fall dry can be told once fillings are logged, or what a channel holds is noted.</source>
        <translation>
            <numerusform>When %n filled channel fall dry can be told once fillings are logged, or what a channel holds is noted.</numerusform>
            <numerusform>When %n filled channels fall dry can be told once fillings are logged, or what a channel holds is noted.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>With %n channel(s) filled {when} the water lasts about {days} days ({range}), as it did before.</source>
        <translation>
            <numerusform>With %n channel filled {when} the water lasts about {days} days ({range}), as it did before.</numerusform>
            <numerusform>With %n channels filled {when} the water lasts about {days} days ({range}), as it did before.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>With %n channel(s) filled {when} the water lasts about {days} days ({range}), by what a channel holds and what evaporates.</source>
        <translation>
            <numerusform>With %n channel filled {when} the water lasts about {days} days ({range}), by what a channel holds and what evaporates.</numerusform>
            <numerusform>With %n channels filled {when} the water lasts about {days} days ({range}), by what a channel holds and what evaporates.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>GuideCells</name>
    <message numerus="yes">
        <source>%n channel(s)</source>
        <translation>
            <numerusform>%n channel</numerusform>
            <numerusform>%n channels</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{batches} and %n more</source>
        <translation>
            <numerusform>{batches} and %n more</numerusform>
            <numerusform>{batches} and %n more</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>HatchDayDialog</name>
    <message numerus="yes">
        <source>Only %n egg(s) may still hatch. Enter goes to egg {number}.</source>
        <translation>
            <numerusform>Only %n egg may still hatch. Enter goes to egg {number}.</numerusform>
            <numerusform>Only %n eggs may still hatch. Enter goes to egg {number}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n chick(s)</source>
        <translation>
            <numerusform>%n chick</numerusform>
            <numerusform>%n chicks</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>HatchPane</name>
    <message numerus="yes">
        <source>%n egg(s) pipped and waited for</source>
        <translation>
            <numerusform>%n egg pipped and waited for</numerusform>
            <numerusform>%n eggs pipped and waited for</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Hatching</name>
    <message numerus="yes">
        <source>{share}, mean of %n chick(s)</source>
        <translation>
            <numerusform>{share}, mean of %n chick</numerusform>
            <numerusform>{share}, mean of %n chicks</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>History</name>
    <message numerus="yes">
        <source>batch {label} set, %n egg(s)</source>
        <translation>
            <numerusform>batch {label} set, %n egg</numerusform>
            <numerusform>batch {label} set, %n eggs</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>water, %n channel(s)</source>
        <translation>
            <numerusform>water, %n channel</numerusform>
            <numerusform>water, %n channels</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) candled</source>
        <translation>
            <numerusform>%n egg candled</numerusform>
            <numerusform>%n eggs candled</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s): {mark}</source>
        <translation>
            <numerusform>%n egg: {mark}</numerusform>
            <numerusform>%n eggs: {mark}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n hatching record(s) noted</source>
        <translation>
            <numerusform>%n hatching record noted</numerusform>
            <numerusform>%n hatching records noted</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>water, %n channel(s), logged</source>
        <translation>
            <numerusform>water, %n channel, logged</numerusform>
            <numerusform>water, %n channels, logged</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n channel(s) and vent {opening} logged</source>
        <translation>
            <numerusform>%n channel and vent {opening} logged</numerusform>
            <numerusform>%n channels and vent {opening} logged</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) opened: {result}</source>
        <translation>
            <numerusform>%n egg opened: {result}</numerusform>
            <numerusform>%n eggs opened: {result}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s): {reason}</source>
        <translation>
            <numerusform>%n egg: {reason}</numerusform>
            <numerusform>%n eggs: {reason}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) imported from {file}</source>
        <translation>
            <numerusform>%Ln reading imported from {file}</numerusform>
            <numerusform>%Ln readings imported from {file}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln past batch(es) imported from {file}</source>
        <translation>
            <numerusform>%Ln past batch imported from {file}</numerusform>
            <numerusform>%Ln past batches imported from {file}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) taken out</source>
        <translation>
            <numerusform>%n egg taken out</numerusform>
            <numerusform>%n eggs taken out</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Holding</name>
    <message numerus="yes">
        <source>%n batch(es)</source>
        <translation>
            <numerusform>%n batch</numerusform>
            <numerusform>%n batches</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n past batch(es)</source>
        <translation>
            <numerusform>%n past batch</numerusform>
            <numerusform>%n past batches</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s)</source>
        <translation>
            <numerusform>%n egg</numerusform>
            <numerusform>%n eggs</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s)</source>
        <translation>
            <numerusform>%Ln reading</numerusform>
            <numerusform>%Ln readings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n event(s)</source>
        <translation>
            <numerusform>%n event</numerusform>
            <numerusform>%n events</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n probe(s)</source>
        <translation>
            <numerusform>%n probe</numerusform>
            <numerusform>%n probes</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ImportDialog</name>
    <message numerus="yes">
        <source>Import %Ln reading(s)</source>
        <translation>
            <numerusform>Import %Ln reading</numerusform>
            <numerusform>Import %Ln readings</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ImportPastDialog</name>
    <message numerus="yes">
        <source>%Ln line(s) saved in {file}.</source>
        <translation>
            <numerusform>%Ln line saved in {file}.</numerusform>
            <numerusform>%Ln lines saved in {file}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Import %Ln batch(es)</source>
        <translation>
            <numerusform>Import %Ln batch</numerusform>
            <numerusform>Import %Ln batches</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Imports</name>
    <message numerus="yes">
        <source>%Ln reading(s) of {batches}, {outside} of no batch</source>
        <translation>
            <numerusform>%Ln reading of {batches}, {outside} of no batch</numerusform>
            <numerusform>%Ln readings of {batches}, {outside} of no batch</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s): {good} good, {out} left out, all good ones already in the journal.</source>
        <translation>
            <numerusform>%Ln line: {good} good, {out} left out, all good ones already in the journal.</numerusform>
            <numerusform>%Ln lines: {good} good, {out} left out, all good ones already in the journal.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s): {good} good, {out} left out, {already} already in the journal.</source>
        <translation>
            <numerusform>%Ln line: {good} good, {out} left out, {already} already in the journal.</numerusform>
            <numerusform>%Ln lines: {good} good, {out} left out, {already} already in the journal.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s): {good} good, {out} left out, none already in the journal.</source>
        <translation>
            <numerusform>%Ln line: {good} good, {out} left out, none already in the journal.</numerusform>
            <numerusform>%Ln lines: {good} good, {out} left out, none already in the journal.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n gap(s), the longest {span}.</source>
        <translation>
            <numerusform>%n gap, the longest {span}.</numerusform>
            <numerusform>%n gaps, the longest {span}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) of column names</source>
        <translation>
            <numerusform>%Ln line of column names</numerusform>
            <numerusform>%Ln lines of column names</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) before the readings</source>
        <translation>
            <numerusform>%Ln line before the readings</numerusform>
            <numerusform>%Ln lines before the readings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln blank line(s)</source>
        <translation>
            <numerusform>%Ln blank line</numerusform>
            <numerusform>%Ln blank lines</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s)</source>
        <translation>
            <numerusform>%Ln reading</numerusform>
            <numerusform>%Ln readings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) that cannot be read</source>
        <translation>
            <numerusform>%Ln line that cannot be read</numerusform>
            <numerusform>%Ln lines that cannot be read</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln repeated line(s)</source>
        <translation>
            <numerusform>%Ln repeated line</numerusform>
            <numerusform>%Ln repeated lines</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) without temperature</source>
        <translation>
            <numerusform>%Ln reading without temperature</numerusform>
            <numerusform>%Ln readings without temperature</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) without humidity</source>
        <translation>
            <numerusform>%Ln reading without humidity</numerusform>
            <numerusform>%Ln readings without humidity</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) sorted in from elsewhere in the file</source>
        <translation>
            <numerusform>%Ln reading sorted in from elsewhere in the file</numerusform>
            <numerusform>%Ln readings sorted in from elsewhere in the file</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) later than now: check how dates and times are read.</source>
        <translation>
            <numerusform>%Ln reading later than now: check how dates and times are read.</numerusform>
            <numerusform>%Ln readings later than now: check how dates and times are read.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) sorted in from elsewhere in the file.</source>
        <translation>
            <numerusform>%Ln reading sorted in from elsewhere in the file.</numerusform>
            <numerusform>%Ln readings sorted in from elsewhere in the file.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n more such stretch(es).</source>
        <translation>
            <numerusform>%n more such stretch.</numerusform>
            <numerusform>%n more such stretches.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>LeftOutModel</name>
    <message numerus="yes">
        <source>%Ln line(s)</source>
        <translation>
            <numerusform>%Ln line</numerusform>
            <numerusform>%Ln lines</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>LeftOutPane</name>
    <message numerus="yes">
        <source>%Ln line(s) with one value only</source>
        <translation>
            <numerusform>%Ln line with one value only</numerusform>
            <numerusform>%Ln lines with one value only</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) will be left out</source>
        <translation>
            <numerusform>%Ln line will be left out</numerusform>
            <numerusform>%Ln lines will be left out</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) cannot be read and will be left out</source>
        <translation>
            <numerusform>%Ln line cannot be read and will be left out</numerusform>
            <numerusform>%Ln lines cannot be read and will be left out</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Lines</name>
    <message numerus="yes">
        <source>%n channel(s) filled</source>
        <translation>
            <numerusform>%n channel filled</numerusform>
            <numerusform>%n channels filled</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s): {text}</source>
        <translation>
            <numerusform>%n egg: {text}</numerusform>
            <numerusform>%n eggs: {text}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Turned %n time(s)</source>
        <translation>
            <numerusform>Turned %n time</numerusform>
            <numerusform>Turned %n times</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Set %n egg(s), {mass} mean</source>
        <translation>
            <numerusform>Set %n egg, {mass} mean</numerusform>
            <numerusform>Set %n eggs, {mass} mean</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Set %n egg(s)</source>
        <translation>
            <numerusform>Set %n egg</numerusform>
            <numerusform>Set %n eggs</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Weighed %n egg(s): {loss} lost</source>
        <translation>
            <numerusform>Weighed %n egg: {loss} lost</numerusform>
            <numerusform>Weighed %n eggs: {loss} lost</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Weighed %n egg(s)</source>
        <translation>
            <numerusform>Weighed %n egg</numerusform>
            <numerusform>Weighed %n eggs</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s) from {file}</source>
        <translation>
            <numerusform>%Ln reading from {file}</numerusform>
            <numerusform>%Ln readings from {file}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>MachineFields</name>
    <message numerus="yes">
        <source>%n place(s)</source>
        <translation>
            <numerusform>%n place</numerusform>
            <numerusform>%n places</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>MachineForm</name>
    <message numerus="yes">
        <source>%n egg(s) lie or lay on places that would go; nothing was changed. Other trays make another machine: add it as a new one.</source>
        <translation>
            <numerusform>%n egg lie or lay on places that would go; nothing was changed. Other trays make another machine: add it as a new one.</numerusform>
            <numerusform>%n eggs lie or lay on places that would go; nothing was changed. Other trays make another machine: add it as a new one.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Machines</name>
    <message numerus="yes">
        <source>Up to %n egg(s), {kind}</source>
        <translation>
            <numerusform>Up to %n egg, {kind}</numerusform>
            <numerusform>Up to %n eggs, {kind}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{eggs}, %n water channel(s).</source>
        <translation>
            <numerusform>{eggs}, %n water channel.</numerusform>
            <numerusform>{eggs}, %n water channels.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n phase(s) with readings</source>
        <translation>
            <numerusform>%n phase with readings</numerusform>
            <numerusform>%n phases with readings</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>MeaningBar</name>
    <message numerus="yes">
        <source>“{word}” is no species that is known, in %Ln line(s). Which one does it mean?</source>
        <translation>
            <numerusform>“{word}” is no species that is known, in %Ln line. Which one does it mean?</numerusform>
            <numerusform>“{word}” is no species that is known, in %Ln lines. Which one does it mean?</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>MoveToDialog</name>
    <message numerus="yes">
        <source>%n egg(s); the first comes to the place you type</source>
        <translation>
            <numerusform>%n egg; the first comes to the place you type</numerusform>
            <numerusform>%n eggs; the first comes to the place you type</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>There is no room for %n egg(s) from {place} on.</source>
        <translation>
            <numerusform>There is no room for %n egg from {place} on.</numerusform>
            <numerusform>There is no room for %n eggs from {place} on.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Openings</name>
    <message numerus="yes">
        <source>%n egg(s) not opened: {counted}.</source>
        <translation>
            <numerusform>%n egg not opened: {counted}.</numerusform>
            <numerusform>%n eggs not opened: {counted}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n clear egg(s) opened: {infertile} infertile, {early} dead early.</source>
        <translation>
            <numerusform>%n clear egg opened: {infertile} infertile, {early} dead early.</numerusform>
            <numerusform>%n clear eggs opened: {infertile} infertile, {early} dead early.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) may still hatch.</source>
        <translation>
            <numerusform>%n egg may still hatch.</numerusform>
            <numerusform>%n eggs may still hatch.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PaperDialog</name>
    <message numerus="yes">
        <source>Store %n weight(s)</source>
        <translation>
            <numerusform>Store %n weight</numerusform>
            <numerusform>Store %n weights</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PastBatches</name>
    <message numerus="yes">
        <source>%n {species} egg(s) from {pen} in {machine}</source>
        <translation>
            <numerusform>%n {species} egg from {pen} in {machine}</numerusform>
            <numerusform>%n {species} eggs from {pen} in {machine}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n {species} egg(s) from {pen}</source>
        <translation>
            <numerusform>%n {species} egg from {pen}</numerusform>
            <numerusform>%n {species} eggs from {pen}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n {species} egg(s) in {machine}</source>
        <translation>
            <numerusform>%n {species} egg in {machine}</numerusform>
            <numerusform>%n {species} eggs in {machine}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n {species} egg(s)</source>
        <translation>
            <numerusform>%n {species} egg</numerusform>
            <numerusform>%n {species} eggs</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n clear egg(s) not opened</source>
        <translation>
            <numerusform>%n clear egg not opened</numerusform>
            <numerusform>%n clear eggs not opened</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PastSeasons</name>
    <message numerus="yes">
        <source>%Ln line(s): {new} new, {out} refused, {already} already in the journal.</source>
        <translation>
            <numerusform>%Ln line: {new} new, {out} refused, {already} already in the journal.</numerusform>
            <numerusform>%Ln lines: {new} new, {out} refused, {already} already in the journal.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s): {new} new, {out} refused, none already in the journal.</source>
        <translation>
            <numerusform>%Ln line: {new} new, {out} refused, none already in the journal.</numerusform>
            <numerusform>%Ln lines: {new} new, {out} refused, none already in the journal.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) above the column names</source>
        <translation>
            <numerusform>%Ln line above the column names</numerusform>
            <numerusform>%Ln lines above the column names</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) of column names</source>
        <translation>
            <numerusform>%Ln line of column names</numerusform>
            <numerusform>%Ln lines of column names</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln blank line(s)</source>
        <translation>
            <numerusform>%Ln blank line</numerusform>
            <numerusform>%Ln blank lines</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) that name a season</source>
        <translation>
            <numerusform>%Ln line that name a season</numerusform>
            <numerusform>%Ln lines that name a season</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) of a heading or a remark</source>
        <translation>
            <numerusform>%Ln line of a heading or a remark</numerusform>
            <numerusform>%Ln lines of a heading or a remark</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln line(s) of sums or means</source>
        <translation>
            <numerusform>%Ln line of sums or means</numerusform>
            <numerusform>%Ln lines of sums or means</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln column(s) left out: {names}.</source>
        <translation>
            <numerusform>%Ln column left out: {names}.</numerusform>
            <numerusform>%Ln columns left out: {names}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Passed over: %Ln line(s) of sums or means.</source>
        <translation>
            <numerusform>Passed over: %Ln line of sums or means.</numerusform>
            <numerusform>Passed over: %Ln lines of sums or means.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Season taken from a line above: %Ln line(s).</source>
        <translation>
            <numerusform>Season taken from a line above: %Ln line.</numerusform>
            <numerusform>Season taken from a line above: %Ln lines.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Taken as not counted: %Ln dash(es).</source>
        <translation>
            <numerusform>Taken as not counted: %Ln dash.</numerusform>
            <numerusform>Taken as not counted: %Ln dashes.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Season taken from a date without a day, which stands in the note: %Ln line(s).</source>
        <translation>
            <numerusform>Season taken from a date without a day, which stands in the note: %Ln line.</numerusform>
            <numerusform>Season taken from a date without a day, which stands in the note: %Ln lines.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>New numbers for %Ln batch(es) without one: {first} to {last}.</source>
        <translation>
            <numerusform>New numbers for %Ln batch without one: {first} to {last}.</numerusform>
            <numerusform>New numbers for %Ln batches without one: {first} to {last}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>New numbers for %Ln batch(es): {pairs}.</source>
        <translation>
            <numerusform>New numbers for %Ln batch: {pairs}.</numerusform>
            <numerusform>New numbers for %Ln batches: {pairs}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln batch(es) with a number that another batch has.</source>
        <translation>
            <numerusform>%Ln batch with a number that another batch has.</numerusform>
            <numerusform>%Ln batches with a number that another batch has.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln new pen(s): {names}.</source>
        <translation>
            <numerusform>%Ln new pen: {names}.</numerusform>
            <numerusform>%Ln new pens: {names}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln new machine(s): {names}.</source>
        <translation>
            <numerusform>%Ln new machine: {names}.</numerusform>
            <numerusform>%Ln new machines: {names}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{names} and %Ln more</source>
        <translation>
            <numerusform>{names} and %Ln more</numerusform>
            <numerusform>{names} and %Ln more</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln egg(s) more: their end is not known.</source>
        <translation>
            <numerusform>%Ln egg more: their end is not known.</numerusform>
            <numerusform>%Ln eggs more: their end is not known.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PenForm</name>
    <message numerus="yes">
        <source>{bird} is the dam of eggs in %n batch(es); say until when it was in the pen instead.</source>
        <translation>
            <numerusform>{bird} is the dam of eggs in %n batch; say until when it was in the pen instead.</numerusform>
            <numerusform>{bird} is the dam of eggs in %n batches; say until when it was in the pen instead.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PenOutcome</name>
    <message numerus="yes">
        <source>%n batch(es) that are over</source>
        <translation>
            <numerusform>%n batch that are over</numerusform>
            <numerusform>%n batches that are over</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s)</source>
        <translation>
            <numerusform>%n egg</numerusform>
            <numerusform>%n eggs</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PenRows</name>
    <message numerus="yes">
        <source>Write at most %n letter(s) on a shell.</source>
        <translation>
            <numerusform>Write at most %n letter on a shell.</numerusform>
            <numerusform>Write at most %n letters on a shell.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Of %n of these eggs something is recorded: they stay.</source>
        <translation>
            <numerusform>Of %n of these eggs something is recorded: they stay.</numerusform>
            <numerusform>Of %n of these eggs something is recorded: they stay.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>PhaseChecks</name>
    <message numerus="yes">
        <source>from day {day}: %n channel(s) filled</source>
        <translation>
            <numerusform>from day {day}: %n channel filled</numerusform>
            <numerusform>from day {day}: %n channels filled</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>no turning is logged, %n were due</source>
        <translation>
            <numerusform>no turning is logged, %n were due</numerusform>
            <numerusform>no turning is logged, %n were due</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n not logged</source>
        <translation>
            <numerusform>%n not logged</numerusform>
            <numerusform>%n not logged</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Planning</name>
    <message numerus="yes">
        <source>turned %n time(s) a day</source>
        <translation>
            <numerusform>turned %n time a day</numerusform>
            <numerusform>turned %n times a day</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>up to %n day(s) when set</source>
        <translation>
            <numerusform>up to %n day when set</numerusform>
            <numerusform>up to %n days when set</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{youngest} to %n day(s) when set</source>
        <translation>
            <numerusform>{youngest} to %n day when set</numerusform>
            <numerusform>{youngest} to %n days when set</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{eggs} of %n place(s)</source>
        <translation>
            <numerusform>{eggs} of %n place</numerusform>
            <numerusform>{eggs} of %n places</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{eggs} of %n free place(s), {all} in all</source>
        <translation>
            <numerusform>{eggs} of %n free place, {all} in all</numerusform>
            <numerusform>{eggs} of %n free places, {all} in all</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>The {machine} has %n free place(s) beside {batches}; eggs without a place: {over}.</source>
        <translation>
            <numerusform>The {machine} has %n free place beside {batches}; eggs without a place: {over}.</numerusform>
            <numerusform>The {machine} has %n free places beside {batches}; eggs without a place: {over}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>The {machine} has %n place(s); eggs without a place: {over}.</source>
        <translation>
            <numerusform>The {machine} has %n place; eggs without a place: {over}.</numerusform>
            <numerusform>The {machine} has %n places; eggs without a place: {over}.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Set %n day(s) ago: the batch is entered afterwards, and its past duties are open until ticked.</source>
        <translation>
            <numerusform>Set %n day ago: the batch is entered afterwards, and its past duties are open until ticked.</numerusform>
            <numerusform>Set %n days ago: the batch is entered afterwards, and its past duties are open until ticked.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n day(s)</source>
        <translation>
            <numerusform>%n day</numerusform>
            <numerusform>%n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{programme}, %n day(s)</source>
        <translation>
            <numerusform>{programme}, %n day</numerusform>
            <numerusform>{programme}, %n days</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n marked for weighing</source>
        <translation>
            <numerusform>%n marked for weighing</numerusform>
            <numerusform>%n marked for weighing</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) without a place</source>
        <translation>
            <numerusform>%n egg without a place</numerusform>
            <numerusform>%n eggs without a place</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>ProbeFlags</name>
    <message numerus="yes">
        <source>{probe} moved up by {change} against the other probes within %n day(s): check it.</source>
        <translation>
            <numerusform>{probe} moved up by {change} against the other probes within %n day: check it.</numerusform>
            <numerusform>{probe} moved up by {change} against the other probes within %n days: check it.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{probe} moved down by {change} against the other probes within %n day(s): check it.</source>
        <translation>
            <numerusform>{probe} moved down by {change} against the other probes within %n day: check it.</numerusform>
            <numerusform>{probe} moved down by {change} against the other probes within %n days: check it.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Problems</name>
    <message numerus="yes">
        <source>%Ln batch(es)</source>
        <translation>
            <numerusform>%Ln batch</numerusform>
            <numerusform>%Ln batches</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln batch(es) of past seasons</source>
        <translation>
            <numerusform>%Ln batch of past seasons</numerusform>
            <numerusform>%Ln batches of past seasons</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln egg(s)</source>
        <translation>
            <numerusform>%Ln egg</numerusform>
            <numerusform>%Ln eggs</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln reading(s)</source>
        <translation>
            <numerusform>%Ln reading</numerusform>
            <numerusform>%Ln readings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln candling(s)</source>
        <translation>
            <numerusform>%Ln candling</numerusform>
            <numerusform>%Ln candlings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln weighing(s)</source>
        <translation>
            <numerusform>%Ln weighing</numerusform>
            <numerusform>%Ln weighings</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln event(s)</source>
        <translation>
            <numerusform>%Ln event</numerusform>
            <numerusform>%Ln events</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln machine(s)</source>
        <translation>
            <numerusform>%Ln machine</numerusform>
            <numerusform>%Ln machines</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln probe(s)</source>
        <translation>
            <numerusform>%Ln probe</numerusform>
            <numerusform>%Ln probes</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln pen(s)</source>
        <translation>
            <numerusform>%Ln pen</numerusform>
            <numerusform>%Ln pens</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Programmes</name>
    <message numerus="yes">
        <source>%n time(s) a day, until lockdown</source>
        <translation>
            <numerusform>%n time a day, until lockdown</numerusform>
            <numerusform>%n times a day, until lockdown</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n time(s) a day</source>
        <translation>
            <numerusform>%n time a day</numerusform>
            <numerusform>%n times a day</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n batch(es) set by it: they keep what they were set with.</source>
        <translation>
            <numerusform>%n batch set by it: they keep what they were set with.</numerusform>
            <numerusform>%n batches set by it: they keep what they were set with.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Questions</name>
    <message numerus="yes">
        <source>%Ln line(s) in the hour that the clocks here skip in spring. Which clock does the logger keep?</source>
        <translation>
            <numerusform>%Ln line in the hour that the clocks here skip in spring. Which clock does the logger keep?</numerusform>
            <numerusform>%Ln lines in the hour that the clocks here skip in spring. Which clock does the logger keep?</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>RateFigures</name>
    <message numerus="yes">
        <source>%n egg(s)</source>
        <translation>
            <numerusform>%n egg</numerusform>
            <numerusform>%n eggs</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Rates</name>
    <message numerus="yes">
        <source>%n clear egg(s) not opened</source>
        <translation>
            <numerusform>%n clear egg not opened</numerusform>
            <numerusform>%n clear eggs not opened</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n chick(s) culled among them</source>
        <translation>
            <numerusform>%n chick culled among them</numerusform>
            <numerusform>%n chicks culled among them</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n chick(s) helped out</source>
        <translation>
            <numerusform>%n chick helped out</numerusform>
            <numerusform>%n chicks helped out</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Chicks and losses add up to the %n fertile egg(s).</source>
        <translation>
            <numerusform>Chicks and losses add up to the %n fertile egg.</numerusform>
            <numerusform>Chicks and losses add up to the %n fertile eggs.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) whose end is not known</source>
        <translation>
            <numerusform>%n egg whose end is not known</numerusform>
            <numerusform>%n eggs whose end is not known</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) still without an end</source>
        <translation>
            <numerusform>%n egg still without an end</numerusform>
            <numerusform>%n eggs still without an end</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) taken out or broken: left out of the rates of fertile.</source>
        <translation>
            <numerusform>%n egg taken out or broken: left out of the rates of fertile.</numerusform>
            <numerusform>%n eggs taken out or broken: left out of the rates of fertile.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) of unknown fertility: left out of the rates of fertile.</source>
        <translation>
            <numerusform>%n egg of unknown fertility: left out of the rates of fertile.</numerusform>
            <numerusform>%n eggs of unknown fertility: left out of the rates of fertile.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n rotten egg(s) counted as fertile, as is customary.</source>
        <translation>
            <numerusform>%n rotten egg counted as fertile, as is customary.</numerusform>
            <numerusform>%n rotten eggs counted as fertile, as is customary.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n clear egg(s) not opened: they may have died very early.</source>
        <translation>
            <numerusform>%n clear egg not opened: they may have died very early.</numerusform>
            <numerusform>%n clear eggs not opened: they may have died very early.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Records</name>
    <message numerus="yes">
        <source>%n egg(s) added</source>
        <translation>
            <numerusform>%n egg added</numerusform>
            <numerusform>%n eggs added</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) taken away</source>
        <translation>
            <numerusform>%n egg taken away</numerusform>
            <numerusform>%n eggs taken away</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n date(s) planned</source>
        <translation>
            <numerusform>%n date planned</numerusform>
            <numerusform>%n dates planned</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n planned date(s) dropped</source>
        <translation>
            <numerusform>%n planned date dropped</numerusform>
            <numerusform>%n planned dates dropped</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>RefusedModel</name>
    <message numerus="yes">
        <source>%Ln line(s)</source>
        <translation>
            <numerusform>%Ln line</numerusform>
            <numerusform>%Ln lines</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>RefusedPane</name>
    <message numerus="yes">
        <source>%Ln line(s) cannot come in</source>
        <translation>
            <numerusform>%Ln line cannot come in</numerusform>
            <numerusform>%Ln lines cannot come in</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Seasons</name>
    <message numerus="yes">
        <source>%n other(s)</source>
        <translation>
            <numerusform>%n other</numerusform>
            <numerusform>%n others</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{group}: %n batch(es), too few to say.</source>
        <translation>
            <numerusform>{group}: %n batch, too few to say.</numerusform>
            <numerusform>{group}: %n batches, too few to say.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{group}: %n egg(s), too few to say.</source>
        <translation>
            <numerusform>{group}: %n egg, too few to say.</numerusform>
            <numerusform>{group}: %n eggs, too few to say.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{group} (%n batch(es))</source>
        <translation>
            <numerusform>{group} (%n batch)</numerusform>
            <numerusform>{group} (%n batches)</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{group} (%n egg(s))</source>
        <translation>
            <numerusform>{group} (%n egg)</numerusform>
            <numerusform>{group} (%n eggs)</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n more batch(es) {of_each}</source>
        <translation>
            <numerusform>%n more batch {of_each}</numerusform>
            <numerusform>%n more batches {of_each}</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln finished batch(es)</source>
        <translation>
            <numerusform>%Ln finished batch</numerusform>
            <numerusform>%Ln finished batches</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%Ln egg(s) set</source>
        <translation>
            <numerusform>%Ln egg set</numerusform>
            <numerusform>%Ln eggs set</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{count} (known of %Ln batch(es))</source>
        <translation>
            <numerusform>{count} (known of %Ln batch)</numerusform>
            <numerusform>{count} (known of %Ln batches)</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n still running.</source>
        <translation>
            <numerusform>%n still running.</numerusform>
            <numerusform>%n still running.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>you have %n.</source>
        <translation>
            <numerusform>you have %n.</numerusform>
            <numerusform>you have %n.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>of %n this is known.</source>
        <translation>
            <numerusform>of %n this is known.</numerusform>
            <numerusform>of %n this is known.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>SeasonsHeader</name>
    <message numerus="yes">
        <source>The last %n season(s)</source>
        <translation>
            <numerusform>The last %n season</numerusform>
            <numerusform>The last %n seasons</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>SeasonsKeeping</name>
    <message numerus="yes">
        <source>%n row(s) written to {file}</source>
        <translation>
            <numerusform>%n row written to {file}</numerusform>
            <numerusform>%n rows written to {file}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>SeasonsPage</name>
    <message numerus="yes">
        <source>Charts and list show only {group}: %n batch(es).</source>
        <translation>
            <numerusform>Charts and list show only {group}: %n batch.</numerusform>
            <numerusform>Charts and list show only {group}: %n batches.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>SidePane</name>
    <message numerus="yes">
        <source>%n line(s)</source>
        <translation>
            <numerusform>%n line</numerusform>
            <numerusform>%n lines</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>StoryPane</name>
    <message numerus="yes">
        <source>%n more</source>
        <translation>
            <numerusform>%n more</numerusform>
            <numerusform>%n more</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Survival</name>
    <message numerus="yes">
        <source>{sentence}; %n left alive before</source>
        <translation>
            <numerusform>{sentence}; %n left alive before</numerusform>
            <numerusform>{sentence}; %n left alive before</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Known only to a span: %n loss(es). The line takes the middle, the shade the first and the last day.</source>
        <translation>
            <numerusform>Known only to a span: %n loss. The line takes the middle, the shade the first and the last day.</numerusform>
            <numerusform>Known only to a span: %n losses. The line takes the middle, the shade the first and the last day.</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) taken out or broken count until then</source>
        <translation>
            <numerusform>%n egg taken out or broken count until then</numerusform>
            <numerusform>%n eggs taken out or broken count until then</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) whose end is not known count until the last sign of life</source>
        <translation>
            <numerusform>%n egg whose end is not known count until the last sign of life</numerusform>
            <numerusform>%n eggs whose end is not known count until the last sign of life</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n clear egg(s) not opened</source>
        <translation>
            <numerusform>%n clear egg not opened</numerusform>
            <numerusform>%n clear eggs not opened</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n egg(s) whose fertility is not known</source>
        <translation>
            <numerusform>%n egg whose fertility is not known</numerusform>
            <numerusform>%n eggs whose fertility is not known</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>TakeOutDialog</name>
    <message numerus="yes">
        <source>%n egg(s) taken out</source>
        <translation>
            <numerusform>%n egg taken out</numerusform>
            <numerusform>%n eggs taken out</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Temperature</name>
    <message numerus="yes">
        <source>%n cut(s)</source>
        <translation>
            <numerusform>%n cut</numerusform>
            <numerusform>%n cuts</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>{cuts}; %n found in the curve, not logged</source>
        <translation>
            <numerusform>{cuts}; %n found in the curve, not logged</numerusform>
            <numerusform>{cuts}; %n found in the curve, not logged</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>%n power cut(s) found in the curve, not logged: {time}</source>
        <translation>
            <numerusform>%n power cut found in the curve, not logged: {time}</numerusform>
            <numerusform>%n power cuts found in the curve, not logged: {time}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>TrayMenu</name>
    <message numerus="yes">
        <source>%n egg(s) chosen</source>
        <translation>
            <numerusform>%n egg chosen</numerusform>
            <numerusform>%n eggs chosen</numerusform>
        </translation>
    </message>
    <message numerus="yes">
        <source>Choose all %n: {fate}</source>
        <translation>
            <numerusform>Choose all %n: {fate}</numerusform>
            <numerusform>Choose all %n: {fate}</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Weighing</name>
    <message numerus="yes">
        <source>%n weight(s) cannot well be right: {eggs}. Store again to keep what is typed.</source>
        <translation>
            <numerusform>%n weight cannot well be right: {eggs}. Store again to keep what is typed.</numerusform>
            <numerusform>%n weights cannot well be right: {eggs}. Store again to keep what is typed.</numerusform>
        </translation>
    </message>
</context>
<context>
    <name>Weights</name>
    <message numerus="yes">
        <source>%n egg(s) weighed; no target is set</source>
        <translation>
            <numerusform>%n egg weighed; no target is set</numerusform>
            <numerusform>%n eggs weighed; no target is set</numerusform>
        </translation>
    </message>
</context>
</TS>
