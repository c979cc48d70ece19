"""The scale that showed a cup's gross mass is kept with the reading."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("site", "0015_closed_points"),
    ]

    operations = [
        migrations.AddField(
            model_name="answerentry",
            name="scale",
            field=models.CharField(blank=True, default="", max_length=1000),
        ),
    ]
